// Faults of a form: each beside its field, and all of them in a list that leads there.
import { el } from "./calc.js?v={{.Version}}";
import { markCell } from "./cells.js?v={{.Version}}";
import { title } from "./show.js?v={{.Version}}";

const visible = (i) => !i.closest("[hidden]");

// The id of the text beside a field or a switch.
const beside = (at) => document.getElementById((at.dataset.path ? at.id : at.dataset.switches) + "-fault");

export function clearFaults(form) {
  for (const p of form.querySelectorAll(".fault")) p.textContent = "";
  for (const i of form.querySelectorAll("[aria-invalid]")) i.removeAttribute("aria-invalid");
}

// markFaults puts each fault beside what it is about, and returns the items of the list.
// What nobody has come to yet is in the list alone.
export function markFaults(form, faults, lineOf) {
  clearFaults(form);
  return faults.map((f) => {
    const at = f.field ? place(form, f.field) : undefined;
    if (!at) return el("li", {}, (f.field ? f.field + ": " : "") + words(f));
    if (awaited(at)) return el("li", { class: "awaited" }, linkTo(form, at));
    const [where, line, column] = lineAt(f, at.dataset.path, lineOf);
    if (at.dataset.heads) markCell(at, line - 1, column);
    const text = title(where + words(f, at)), p = beside(at);
    if (!p.textContent) p.textContent = text;
    else if (!p.textContent.includes(text)) p.textContent += "; " + text;
    at.setAttribute("aria-invalid", "true");
    unfold(at.closest(".field") ?? at);
    return el("li", {}, linkTo(form, at), ": " + where + words(f, at));
  });
}

// awaited reports whether a field or a switch has not been come to.
const awaited = (at) => (at.dataset.path ? at.dataset.fresh && at.value.trim() === "" : at.dataset.fresh && !at.querySelector(":checked"));

// unfold opens everything that a field is folded away in.
export function unfold(at) {
  for (let d = at.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
}

// linkTo leads to a field or a switch, and is named by it.
function linkTo(form, at, short) {
  const link = el("a", { href: "#" + at.id }, short ? own(form, at) : name(form, at));
  link.addEventListener("click", (e) => {
    e.preventDefault();
    const field = at.closest(".field") ?? at, cell = at.dataset.heads && (field.querySelector(".cells [aria-invalid]") ?? field.querySelector(".cells input"));
    unfold(field);
    (cell || (at.dataset.path ? at : at.querySelector("input"))).focus();
    field.scrollIntoView({ block: "center" });
  });
  return link;
}

// linkFor leads to what a path of the form's value is entered by, if there is such a field.
export function linkFor(form, path, short) {
  const at = path && place(form, path);
  return at && linkTo(form, at, short);
}

// switchOf is the switch that hides a field, the outermost of several.
function switchOf(form, field) {
  let hidden;
  for (let c = field.closest("[data-case][hidden]"); c; c = c.parentElement.closest("[data-case][hidden]")) hidden = c;
  return hidden && form.querySelector(`[data-switches="${hidden.dataset.switch}"]`);
}

// place is where a fault belongs: its own field, the first one inside what the fault
// names, the switch that hides it, or the nearest field around it.
function place(form, path) {
  const fields = [...form.querySelectorAll("[data-path]")], entered = (f) => f.type !== "hidden" && visible(f);
  let bare = path.replace(/\[.*?\]/g, "");
  // The air around is asked once for both ends; an end's own is the exception.
  if (bare.endsWith(".air.ambient") && fields.some((f) => entered(f) && f.dataset.path === bare && f.value.trim() === "")) bare = "ambient";
  for (let p = bare; p; p = p.includes(".") ? p.slice(0, p.lastIndexOf(".")) : "") {
    const hits = fields.filter((f) => f.dataset.path === p || p === bare && f.dataset.path.startsWith(p + "."));
    const hit = hits.find(entered) ?? (hits[0] && switchOf(form, hits[0]));
    if (hit) return hit;
  }
  return undefined;
}

// lineAt says which line of a field a fault is about, and which column of it: in words,
// and as they are.
function lineAt(f, path, lineOf) {
  const rest = path && f.field.startsWith(path) ? f.field.slice(path.length) : "";
  const index = /\[(\d+)\]/.exec(rest);
  if (!index || !lineOf[path]) return ["", 1];
  const column = /\.(\w+)(?:\[\d+\])?$/.exec(rest);
  const line = lineOf[path][index[1]] ?? "?";
  return [`line ${line}${column ? ", " + column[1].replaceAll("_", " ") : ""}: `, line, column?.[1]];
}

// words say what was given and what is wanted.
export function words(f, at) {
  const nothing = at && (at.dataset.path ? at.value.trim() === "" : !at.querySelector(":checked"));
  if (nothing) return `${at.dataset.path ? "nothing entered" : "not answered"}; want ${f.want}`;
  return (f.given ?? f.value ?? "") !== "" ? `${f.given ?? f.value}; want ${f.want}` : `want ${f.want}`;
}

// own is what a field or a switch is called, and name says of which block as well.
const own = (form, at) => (at.dataset.path ? form.querySelector(`label[for="${CSS.escape(at.id)}"]`) : at.querySelector("legend")).textContent;

function name(form, at) {
  const block = at.closest(".block").querySelector(":scope > legend");
  return block ? block.textContent + ", " + own(form, at).toLowerCase() : own(form, at);
}
