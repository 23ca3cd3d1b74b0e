// The linkage of the rear end: its points are moved with a pointer or with the arrow keys, and axle
// path and lever ratio follow.

import { ask, tell } from "./calc.js?v={{.Version}}";

const space = "http://www.w3.org/2000/svg";
const svg = (name, attributes = {}, ...children) => {
  const e = document.createElementNS(space, name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  e.append(...children);
  return e;
};
const round = (v) => Math.round(v * 10) / 10;
const line = (points) => points.map(([x, y]) => `${round(x)},${round(-y)}`).join(" ");

// around returns the points of a body in order around their middle.
function around(points) {
  const x = points.reduce((s, p) => s + p[0], 0) / points.length, y = points.reduce((s, p) => s + p[1], 0) / points.length;
  return [...points].sort((a, b) => Math.atan2(a[1] - y, a[0] - x) - Math.atan2(b[1] - y, b[0] - x));
}

// ticks are at most six round numbers of a range.
function ticks(lo, hi) {
  const rough = (hi - lo) / 5, power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough);
  const list = [];
  for (let i = Math.ceil(lo / step); i * step <= hi; i++) list.push(i * step);
  return list;
}

// linkage makes the view in root. Within is how far every hole may be off; moved is called with the
// mechanism at every step, changed once a point is let go.
export function linkage(root, { within, moved, changed }) {
  const drawing = root.querySelector(".linkage-drawing"), chart = root.querySelector(".linkage-chart");
  const says = root.querySelector(".linkage-says"), trouble = root.querySelector(".fault");
  let spec, now, before, grips = {}, scale = 1, middle = 0, asked = 0;

  // The band of a tolerance waits until a point is let go: it takes longer than a picture of the screen.
  const work = (going) => ask("wheelrateLinkage", JSON.stringify(spec), going ? "" : within());

  // show draws a mechanism, and returns what is wrong with it; undefined hides the view.
  function show(mechanism) {
    root.hidden = !mechanism;
    if (!mechanism) return undefined;
    const held = Object.keys(grips).find((name) => grips[name] === document.activeElement);
    spec = structuredClone(mechanism);
    const answer = work();
    if (answer.faults) return answer.faults;
    before ??= answer;
    now = answer;
    frame();
    draw();
    if (held !== undefined) grips[held]?.focus({ preventScroll: true });
    moved(spec, now);
    return undefined;
  }

  // frame fits the drawing around both ends of the motion, and makes a grip for every point of a body.
  function frame() {
    const all = [...Object.values(now.points), ...Object.values(now.full), ...now.path, [0, 0]];
    const [x0, x1] = [Math.min(...all.map((p) => p[0])), Math.max(...all.map((p) => p[0]))];
    const [y0, y1] = [Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))];
    const size = Math.max(x1 - x0, y1 - y0), room = 0.12 * size;
    drawing.setAttribute("viewBox", `${x0 - room} ${-y1 - room} ${x1 - x0 + 2 * room} ${y1 - y0 + 2 * room}`);
    scale = (x1 - x0 + 2 * room) / (drawing.clientWidth || 560); // mm for a pixel
    middle = x0 + 0.7 * (x1 - x0);
    const moving = new Set(Object.values(spec.bodies).flat());
    grips = {};
    for (const name of moving) {
      const grip = svg("g", { class: "grip", tabindex: "0", role: "button", "aria-roledescription": "movable point" },
        svg("circle", { r: 14 * scale, class: "reach" }), svg("circle", { r: 5 * scale, class: "dot" }));
      grip.addEventListener("pointerdown", (e) => drag(name, grip, e));
      grip.addEventListener("keydown", (e) => nudge(name, e));
      grips[name] = grip;
    }
  }

  function draw() {
    const { points, full, path } = now, fixed = spec.bodies.frame ?? [];
    const parts = [svg("g", { class: "origin" }, svg("circle", { r: 9 * scale }), svg("path", { d: `M${-14 * scale} 0H${14 * scale}M0 ${-14 * scale}V${14 * scale}` }))];
    const other = before === now || Object.values(spec.bodies).flat().some((p) => !before.points[p]) ? [] : [[before.points, "other"]];
    for (const [at, kind] of [...other, [full, "ghost"], [points, "body"]]) {
      for (const [name, list] of Object.entries(spec.bodies)) {
        if (name !== "frame" && list.length > 1) parts.push(svg("polygon", { class: kind, points: line(around(list.map((p) => at[p]))) }));
      }
      parts.push(svg("polyline", { class: kind + " shock", points: line(spec.shock.map((p) => at[p])) }));
    }
    parts.push(svg("polyline", { class: "path", points: line(path) }));
    for (const name of fixed) {
      const [x, y] = points[name];
      parts.push(svg("path", { class: "ground", d: `M${x} ${-y}l${-7 * scale} ${12 * scale}h${14 * scale}z` }));
    }
    for (const [name, grip] of Object.entries(grips)) {
      const [x, y] = points[name];
      grip.setAttribute("transform", `translate(${x} ${-y})`);
      grip.setAttribute("aria-label", `Point ${name}, x ${round(x)} mm, y ${round(y)} mm. Arrow keys move it by 1 mm, with Shift by 0.1 mm.`);
      const left = x > middle; // the name is on the side where there is room
      parts.push(svg("text", { x: x + (left ? -10 : 10) * scale, y: -y - 8 * scale, "font-size": 14 * scale, "text-anchor": left ? "end" : "start" }, name));
    }
    const grip = Object.values(grips);
    if (grip[0]?.parentNode !== drawing) drawing.replaceChildren(svg("g"), ...grip);
    drawing.firstChild.replaceChildren(...parts);
    curve();
    says.textContent = now.says;
  }

  // curve draws the lever ratio over the travel, and as it was before in dashes.
  function curve() {
    const width = chart.clientWidth || 560, height = 220, left = 44, right = 16, top = 12, bottom = 40;
    const band = (now.band ?? []).map((off, i) => [now.travel_mm[5 * i], now.lever_ratio[5 * i], off]);
    const both = [...now.lever_ratio, ...before.lever_ratio, ...band.flatMap(([, r, off]) => [r - off, r + off])];
    let lo = Math.min(...both), hi = Math.max(...both);
    const room = Math.max(0.1 * (hi - lo), 0.02);
    lo -= room; hi += room;
    const last = Math.max(now.travel_mm.at(-1), before.travel_mm.at(-1));
    const x = (v) => left + (width - left - right) * v / last, y = (v) => top + (height - top - bottom) * (hi - v) / (hi - lo);
    const points = (a) => a.travel_mm.map((t, i) => `${round(x(t))},${round(y(a.lever_ratio[i]))}`).join(" ");
    const parts = [];
    for (const ratio of ticks(lo, hi)) {
      parts.push(svg("path", { class: "grid", d: `M${left} ${y(ratio)}H${width - right}` }), svg("text", { x: left - 6, y: y(ratio) + 4, "text-anchor": "end" }, ratio.toFixed(2)));
    }
    for (const travel of ticks(0, last)) {
      parts.push(svg("path", { class: "grid", d: `M${x(travel)} ${top}V${height - bottom}` }), svg("text", { x: x(travel), y: height - bottom + 17, "text-anchor": "middle" }, travel.toFixed(0)));
    }
    parts.push(svg("text", { x: (left + width - right) / 2, y: height - 6, "text-anchor": "middle" }, "Wheel travel, mm; upward the lever ratio"));
    if (band.length) {
      const edge = (sign, list) => list.map(([t, r, off]) => `${round(x(t))},${round(y(r + sign * off))}`);
      parts.push(svg("polygon", { class: "tolerance", points: [...edge(1, band), ...edge(-1, [...band].reverse())].join(" ") }));
    }
    parts.push(svg("polyline", { class: "before", points: points(before) }), svg("polyline", { class: "now", points: points(now) }));
    chart.setAttribute("viewBox", `0 0 ${width} ${height}`);
    chart.replaceChildren(...parts);
  }

  // move puts a point elsewhere. Where the linkage locks then, the last that moves stays drawn.
  function move(name, x, y) {
    spec.points[name] = [`${round(x)} mm`, `${round(y)} mm`];
    cancelAnimationFrame(asked);
    asked = requestAnimationFrame(() => follow(true));
  }

  function follow(going) {
    const answer = work(going);
    const told = answer.faults?.map((f) => `${f.field}: want ${f.want}`).join("; ") ?? "";
    if (trouble.textContent !== told) trouble.textContent = told;
    root.dataset.faulty = answer.faults ? "yes" : "";
    if (answer.faults) return;
    now = answer;
    draw();
    moved(spec, now);
  }

  function drag(name, grip, e) {
    e.preventDefault();
    grip.focus({ preventScroll: true });
    grip.setPointerCapture(e.pointerId);
    const [px, py] = now.points[name], from = drawing.getScreenCTM().inverse();
    const at = (e) => new DOMPoint(e.clientX, e.clientY).matrixTransform(from), start = at(e);
    const onMove = (e) => { const p = at(e); move(name, px + p.x - start.x, py - (p.y - start.y)); };
    grip.addEventListener("pointermove", onMove);
    const end = () => {
      grip.removeEventListener("pointermove", onMove);
      letGo();
    };
    grip.addEventListener("lostpointercapture", end, { once: true });
  }

  function nudge(name, e) {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (!way) return;
    e.preventDefault();
    const by = e.shiftKey ? 0.1 : 1, [x, y] = now.points[name];
    move(name, x + by * way[0], y + by * way[1]);
    clearTimeout(waiting);
    waiting = setTimeout(letGo, 500);
  }
  let waiting = 0;

  function letGo() {
    cancelAnimationFrame(asked);
    follow(false);
    tell(trouble.textContent || says.textContent);
    changed(spec);
  }

  // compare has the curve drawn against that of now.
  function compare() {
    before = now;
    draw();
  }

  return { show, compare };
}
