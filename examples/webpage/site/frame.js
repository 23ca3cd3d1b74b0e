// The page of a frame's linkage: a mechanism that is typed or moved by hand.
import { ask, el, ready, tell } from "./calc.js?v={{.Version}}";
import { linkage } from "./linkage.js?v={{.Version}}";
import { table } from "./show.js?v={{.Version}}";
import { Bikes } from "./bikes.js?v={{.Version}}";
import { pretty, withUnit } from "./job.js?v={{.Version}}";

const $ = (id) => document.getElementById(id);
const field = "rear.curve.mechanism", store = "wheelrate-linkage";
const text = $("mechanism"), fault = $("mechanism-fault");
const bikes = new Bikes((words) => { fault.textContent = words; });

function keep() {
  try { localStorage.setItem(store, text.value); } catch { /* the bikes have said it */ }
}

await ready;
const view = linkage($("linkage"), { within: () => withUnit($("within").value.trim(), "mm|in"), moved, changed: (mechanism) => { text.value = pretty(mechanism); keep(); } });

// moved shows the places of a mechanism's points, and its curve as numbers.
function moved(mechanism, answer) {
  table($("curve"), answer.table);
  const body = $("places"), names = Object.keys(mechanism.points);
  while (body.rows.length > names.length) body.deleteRow(-1);
  while (body.rows.length < names.length) {
    const [x, y] = ["x", "y"].map((axis, i) => {
      const input = el("input", { type: "text", autocomplete: "off", spellcheck: "false", inputmode: "decimal" });
      input.addEventListener("change", () => place(input.closest("tr").dataset.point, i, withUnit(input.value.trim(), "mm|in")));
      return el("td", {}, input);
    });
    body.append(el("tr", {}, el("th", { scope: "row" }), x, y));
  }
  names.forEach((name, i) => {
    const row = body.rows[i];
    row.dataset.point = row.cells[0].textContent = name;
    mechanism.points[name].forEach((v, j) => {
      const input = row.cells[j + 1].firstChild;
      input.setAttribute("aria-label", `${name}, ${j ? "y, up" : "x, forward"}`);
      if (input !== document.activeElement || input.value !== v) input.value = v;
    });
  });
}

// place puts a point where it was typed.
function place(name, axis, at) {
  const spec = JSON.parse(text.value);
  spec.points[name][axis] = at;
  text.value = pretty(spec);
  typed();
}

// typed draws what stands in the field, or says what is wrong with it.
function typed() {
  let spec;
  try {
    spec = JSON.parse(text.value);
  } catch (e) {
    fault.textContent = "This is no JSON: " + e.message;
    return;
  }
  const faults = ask("wheelrateLinkage", text.value, withUnit($("within").value.trim(), "mm|in")).faults ?? [];
  fault.textContent = faults.map((f) => `${f.field || "the mechanism"}: ${(f.given ?? f.value ?? "") === "" ? "" : (f.given ?? f.value) + "; "}want ${f.want}`).join(". ");
  if (faults.length > 0) return;
  view.show(spec);
  keep();
}

text.addEventListener("input", typed);
$("within").addEventListener("input", typed);
$("before").addEventListener("click", () => { view.compare(); tell("The linkage as it is now is the one to compare with."); });
$("from-job").addEventListener("click", () => {
  const own = bikes.current?.form.texts[field];
  if (!own) { fault.textContent = "The bike of the set-up has no linkage given by its pivots."; return; }
  text.value = own;
  typed();
});
$("to-job").addEventListener("click", () => {
  const own = bikes.current;
  if (!own) { fault.textContent = "There is no bike yet: open the set-up first."; return; }
  const form = structuredClone(own.form);
  form.texts[field] = text.value;
  form.switches["rear.curve"] = "mechanism";
  bikes.change(form, true);
  tell("The rear of " + own.name + " has this linkage now.");
});

try { text.value = localStorage.getItem(store) ?? ""; } catch { /* nothing is kept here */ }
if (!text.value) text.value = pretty(JSON.parse($("demo-mechanism").textContent));
typed();
document.documentElement.dataset.ready = "yes";
