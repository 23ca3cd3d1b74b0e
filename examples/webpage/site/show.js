// What the library answered, on the page.
import { customary, el } from "./calc.js?v={{.Version}}";

const out = (name) => document.querySelector(`[data-out="${name}"]`);

// Folds are the parts of the sheet that fold away, each with what fills it in. They are
// filled in while they are open: what nobody looks at is left for when it is unfolded.
const folds = {
  "fold-sure": ({ answer, linkFor }) => {
    table(out("sure"), answer.sure);
    list(out("says"), answer.says);
    out("left-out").replaceChildren(...answer.sheet.left_out.map((o) => el("li", {}, o.text + " ", linkFor(o.field) ?? "")));
  },
  "fold-if": ({ answer }) => {
    table(out("riders"), answer.riders);
    table(out("standing"), answer.standing);
  },
  "fold-feels": ({ answer }) => { for (const name of ["front", "rear"]) feels(name, answer[name]); },
  "fold-how": ({ answer }) => {
    rows(out("loads"), answer.loads, "Masses and loads");
    rows(out("both"), answer.both, "Both ends together");
  },
};
let shown; // what the open folds show, and the others will

function fill(fold) {
  if (shown && fold.open && fold.shown !== shown) folds[fold.id](shown);
  if (fold.open) fold.shown = shown;
}
for (const id of Object.keys(folds)) document.getElementById(id)?.addEventListener("toggle", (e) => fill(e.target));

// show writes the whole sheet; linkFor leads to the field that a path of the job is entered by.
// Taken are the paths for which the page took a value for granted.
export function show(answer, linkFor, taken) {
  const { sheet } = answer;
  shown = { answer, linkFor };
  out("note").textContent = sheet.note ?? "";
  out("note").hidden = !sheet.note;
  for (const name of ["front", "rear"]) card(name, answer[name], linkFor, taken);
  for (const id of Object.keys(folds)) fill(document.getElementById(id));
  document.getElementById("warnings").hidden = sheet.warnings.length === 0;
  out("warnings").replaceChildren(...sheet.warnings.map((w) => el("li", {}, el("strong", {}, (w.field.includes(".") && linkFor(w.field)) || title(w.field), ": "), w.text)));
  out("further").replaceChildren(...(answer.further ?? []).map(section));
  const item = (c) => el("li", { "data-code": c.code }, c.text);
  out("cautions").replaceChildren(...sheet.cautions.map(item));
  const first = sheet.cautions.filter((c) => c.code === "air_pressure" || c.code === "compressed_spring");
  out("first-cautions").replaceChildren(...first.map(item));
}

// feels shows what an end does, if there is one.
function feels(name, end) {
  document.getElementById("out-" + name).hidden = !end;
  out(name + ".drawn").replaceChildren(...(end?.drawn ?? []).map(picture));
  if (!end) return;
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

export const title = (s) => (s ? s[0].toUpperCase() + s.slice(1) : "");

// section is a part of a sheet or a visit: sentences, and a table of numbers.
export function section(s) {
  const t = el("table", { class: "rows" });
  rows(t, s.rows, s.title);
  return el("section", { class: "end", "data-section": s.key, "data-end": s.end },
    el("h3", {}, (s.end ? title(s.end) + ": " : "") + (s.end ? s.title.toLowerCase() : s.title)),
    s.says ? el(s.key === "advice" ? "ol" : "ul", {}, ...s.says.map((text) => el("li", {}, text))) : "", s.rows ? t : "");
}

// pair is a row's value, the system of units that is chosen first.
const pair = (r) => (customary() && r.customary ? [r.customary, r.metric] : [r.metric, r.customary]);

// card shows what to set at an end, where it rests then, what to do next, and what was
// taken for granted. Of an end that is not there it is empty.
export function card(name, end, linkFor, taken) {
  const to = out(name + ".card");
  to.classList.remove("old");
  if (!end) return to.replaceChildren();
  const [fit, next] = (end.fit ?? []).filter((r) => !r.part);
  const sag = end.expect?.find((r) => r.key === "sag"), ring = end.measure?.find((r) => r.key === "stroke");
  const [big, small] = fit ? pair(fit) : [];
  return to.replaceChildren(
    el("p", { class: "before", hidden: "" }, "As of before: what is entered now has a fault."),
    fit ? el("p", { class: "big" }, big, el("small", {}, small ?? "")) : "",
    fit?.note || next && sag ? el("p", {}, fit.note ? el("b", {}, title(fit.note) + ". ") : "", ...(next && sag ? [next.label + " ", el("b", {}, pair(next)[0]), next.note ? ", " + next.note : ""] : [])) : "",
    sag ? el("p", { class: "sag" }, "Sag ", el("b", {}, sag.note.split(" of ")[0]), ring ? ", ring at " : "", ring ? el("b", {}, pair(ring)[0]) : "",
      el("span", { class: "gauge", "aria-hidden": "true" }, end.bar ? gauge(end.bar) : "")) : el("p", {}, title(end.set)),
    el("p", { class: "next" }, el("strong", {}, "Next: "), el("span", { "data-out": name + ".next" }, end.next)),
    granted(name, end, linkFor, taken),
  );
}

// granted is the line of what was taken for granted at an end, each with its way to the
// field and what another value changes; what the page took is filled in by grants.
function granted(name, end, linkFor, taken) {
  const own = taken.filter((p) => !/^(front|rear)\.|_(front|rear)$/.test(p) || p.startsWith(name + ".") || p.endsWith("_" + name));
  const list = [...own.map((field) => ({ field, effects: [] })), ...(end.taken ?? []).filter((t) => !own.includes(t.field))];
  const items = list.map((t) => [linkFor(t.field, true), t]).filter(([link]) => link);
  if (items.length === 0) return "";
  return el("details", { class: "granted" }, el("summary", {}, `Taken for granted: ${items.length}`),
    el("ul", {}, ...items.map(([link, t]) => el("li", { "data-taken": t.field }, link, el("span", {}, t.effects.length ? ": " + t.effects[0].text : "")))));
}

// grants fills in what another value than the one taken changes.
export function grants(list) {
  for (const { field, effects, tried } of list) {
    for (const end of ["front", "rear"]) {
      const at = out(end + ".card").querySelector(`[data-taken="${field}"] span`), told = effects.find((e) => e.end === end);
      if (at && (told || tried)) at.textContent = ": " + (told?.text ?? "another value changes nothing here");
    }
  }
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
      el("td", {}, pair(r)[0], r.customary ? el("small", {}, pair(r)[1]) : "")))));
}

function list(to, texts) {
  to.hidden = !texts;
  to.replaceChildren(...(texts ?? []).map((t) => el("li", {}, t)));
}

export function table(to, t) {
  to.hidden = !t;
  if (!t) return to.replaceChildren();
  to.replaceChildren(el("caption", {}, t.caption),
    el("thead", {}, el("tr", {}, ...t.head.map((h) => el("th", { scope: "col" }, h)))),
    el("tbody", {}, ...t.rows.map((r) => el("tr", {}, ...r.map((c, i) => el(i ? "td" : "th", i ? {} : { scope: "row" }, c))))));
}

export function picture(p) {
  const figure = el("figure", {}, el("figcaption", {}, el("strong", {}, p.title + ". "), p.caption));
  if (p.svg) {
    const t = document.createElement("template");
    t.innerHTML = p.svg;
    figure.prepend(t.content);
  }
  return figure;
}
