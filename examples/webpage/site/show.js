// What the library answered, on the page.

export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) if (v !== undefined) e.setAttribute(k, v);
  e.append(...children.filter((c) => c !== undefined && c !== ""));
  return e;
}

const out = (name) => document.querySelector(`[data-out="${name}"]`);

// show writes the whole sheet; linkFor leads to the field that a path of the job is entered by.
export function show(answer, linkFor) {
  const { sheet } = answer;
  out("note").textContent = sheet.note ?? "";
  out("note").hidden = !sheet.note;
  for (const name of ["front", "rear"]) {
    const end = answer[name];
    out(name + ".card").hidden = document.getElementById("out-" + name).hidden = !end;
    out(name + ".drawn").replaceChildren(...(end?.drawn ?? []).map(picture));
    if (!end) continue;
    card(out(name + ".card"), name, end);
    out(name + ".kind").textContent = end.kind;
    rows(out(name + ".fit"), end.fit, "What to fit");
    for (const part of ["expect", "full", "measure"]) out(name + "." + part).previousElementSibling.hidden = !end[part]?.length;
    table(out(name + ".choices"), end.choices);
    list(out(name + ".others"), end.others);
    rows(out(name + ".expect"), end.expect, "What to expect at the sag");
    rows(out(name + ".full"), end.full, "At full travel");
    rows(out(name + ".measure"), end.measure, "What to measure");
    table(out(name + ".points"), end.points);
    out(name + ".points").closest("details").hidden = !end.points;
  }
  rows(out("loads"), answer.loads, "Masses and loads");
  rows(out("both"), answer.both, "Both ends together");
  table(out("standing"), answer.standing);
  table(out("riders"), answer.riders);
  table(out("sure"), answer.sure);
  list(out("says"), answer.says);
  out("left-out").replaceChildren(...sheet.left_out.map((o) => el("li", {}, o.text + " ", linkFor(o.field) ?? "")));
  document.getElementById("warnings").hidden = sheet.warnings.length === 0;
  out("warnings").replaceChildren(...sheet.warnings.map((w) => el("li", {}, el("strong", {}, (w.field.includes(".") && linkFor(w.field)) || title(w.field), ": "), w.text)));
  out("further").replaceChildren(...(answer.further ?? []).map(section));
  const item = (c) => el("li", { "data-code": c.code }, c.text);
  out("cautions").replaceChildren(...sheet.cautions.map(item));
  const first = sheet.cautions.filter((c) => c.code === "air_pressure" || c.code === "compressed_spring");
  out("first-cautions").replaceChildren(...first.map(item));
}

export const title = (s) => (s ? s[0].toUpperCase() + s.slice(1) : "");

// section is a part of a sheet or a visit: sentences, and a table of numbers.
export function section(s) {
  const t = el("table", { class: "rows" });
  rows(t, s.rows, s.title);
  return el("section", { class: "end", "data-section": s.key, "data-end": s.end },
    el("h3", {}, (s.end ? title(s.end) + ": " : "") + (s.end ? s.title.toLowerCase() : s.title)),
    s.says ? el(s.key === "advice" ? "ol" : "ul", {}, ...s.says.map((text) => el("li", {}, text))) : "", s.rows ? t : "");
}

function card(to, name, end) {
  const [fit, next] = (end.fit ?? []).filter((r) => !r.part);
  const sag = end.expect?.find((r) => r.key === "sag");
  const [big, small] = end.kind === "coil spring" ? [fit?.customary, fit?.metric] : [fit?.metric, fit?.customary];
  to.replaceChildren(
    el("h3", {}, title(name)),
    fit ? el("p", { class: "big" }, big, el("small", {}, small)) : "",
    fit?.note ? el("p", {}, el("span", { class: "change" }, fit.note)) : "",
    next && sag ? el("p", {}, next.label + " ", el("b", {}, next.metric), next.note ? ", " + next.note : "") : "",
    sag ? el("p", { class: "sag" }, "Sag ", el("b", {}, sag.note.split(" of ")[0]), `, ${sag.metric} at the wheel`,
      el("span", { class: "gauge", "aria-hidden": "true" }, end.bar ? gauge(end.bar) : "")) : el("p", {}, title(end.set)),
    end.step && fit ? reading(name, small) : "",
  );
}

// reading is the way to the next reading of gauge and ring: a line with the fill that
// was set, to be ended by where the ring stands.
function reading(name, fill) {
  const button = el("button", { type: "button", class: "reading" }, "It is set so: enter the ring");
  button.addEventListener("click", () => {
    const field = document.getElementById(name + ".gauge.readings");
    field.value = field.value.trimEnd() + (field.value.trim() ? "\n" : "") + fill + ", ";
    field.focus();
    field.setSelectionRange(field.value.length, field.value.length);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
  return button;
}

// gauge is the sag, its target and the band of friction on a scale of the travel.
function gauge({ sag, low, high, target }) {
  const at = (x) => (100 * x).toFixed(2);
  const t = document.createElement("template");
  t.innerHTML = `<svg viewBox="0 0 100 6" preserveAspectRatio="none"><rect class="g-all" width="100" height="6"/><rect class="g-sag" width="${at(sag)}" height="6"/>` +
    (high > low ? `<rect class="g-band" x="${at(low)}" width="${at(high - low)}" height="6"/>` : "") +
    `<rect class="g-target" x="${at(target)}" width=".5" height="6"/></svg>`;
  return t.content;
}

function rows(to, list, caption) {
  list ??= [];
  to.hidden = list.length === 0;
  to.replaceChildren(el("caption", { class: "unseen" }, caption), el("tbody", {}, ...list.map((r) =>
    el("tr", { "data-key": r.key, class: r.part ? "part" : undefined }, el("th", { scope: "row" }, r.label, r.note ? el("small", {}, r.note) : ""),
      el("td", {}, r.metric, r.customary ? el("small", {}, r.customary) : "")))));
}

function list(to, texts) {
  to.hidden = !texts;
  to.replaceChildren(...(texts ?? []).map((t) => el("li", {}, t)));
}

function table(to, t) {
  to.hidden = !t;
  if (!t) return to.replaceChildren();
  to.replaceChildren(el("caption", {}, t.caption),
    el("thead", {}, el("tr", {}, ...t.head.map((h) => el("th", { scope: "col" }, h)))),
    el("tbody", {}, ...t.rows.map((r) => el("tr", {}, ...r.map((c, i) => el(i ? "td" : "th", i ? {} : { scope: "row" }, c))))));
}

function picture(p) {
  const figure = el("figure", {}, el("figcaption", {}, el("strong", {}, p.title + ". "), p.caption));
  if (p.svg) {
    const t = document.createElement("template");
    t.innerHTML = p.svg;
    figure.prepend(t.content);
  }
  return figure;
}
