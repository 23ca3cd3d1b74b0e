// When the bike comes back: a record that is kept in the browser, what was found, and
// what to do about it.
import { cells, refresh } from "./cells.js?v={{.Version}}";
import { read, judged, writeUnits } from "./job.js?v={{.Version}}";
import { ask, el, tell } from "./calc.js?v={{.Version}}";
import { save } from "./files.js?v={{.Version}}";
import { picture, section } from "./show.js?v={{.Version}}";
import { clearFaults, markFaults, words } from "./faults.js?v={{.Version}}";

const $ = (id) => document.getElementById("visit-" + id);
const most = 200; // records; the oldest go first

// returns wires the form up. The page gives its job, whether that has a sheet, and the bikes,
// with whose one the records are kept. Answered is called with the answer of each visit.
export function returns(page) {
  const form = document.getElementById("visit");
  let next; // the record that the last answer ends with

  const trouble = (text) => {
    $("trouble").hidden = !text;
    $("trouble").textContent = text;
    return false;
  };

  function keep(list, chosen) {
    list = list.slice(0, most);
    trouble(page.bikes.setRecords(list) ? "" : "This browser keeps nothing, or has no room left: save the record as a file.");
    offer(list, chosen);
  }

  // offer lists what a visit can start from: the sheet, or a record.
  let offered = [];
  function offer(list, chosen) {
    offered = list;
    const label = (r) => [r.date, (r.note ?? "").slice(0, 60)].filter(Boolean).join(", ");
    $("from").replaceChildren(el("option", { value: "" }, "as the sheet says: a first visit"), ...list.map((r, i) => el("option", { value: String(i) }, label(r))));
    $("from").value = chosen ?? "";
    for (const id of ["save", "forget"]) $(id).disabled = $("from").value === "";
  }

  // found empties what was found; the day and its weather stay.
  function found() {
    for (const i of form.querySelectorAll("[data-path]")) if (/^(front|rear)\.|^rider_mass$/.test(i.dataset.path)) i.value = "";
  }

  const record = () => offered[$("from").value];

  // start is what the visit starts from, and the ends that it has.
  function start() {
    const r = record();
    return r ? { record: r } : { job: page.job() };
  }

  const asked = (visit) => ask("wheelrateVisit", JSON.stringify(visit));
  const kept = () => page.bikes.current.records;

  // work answers what is entered now, and returns what to read out. Until faults are mended the last
  // answer stays.
  function work(from = start()) {
    refresh(form);
    for (const id of ["save", "forget"]) $(id).disabled = !from.record;
    const bike = from.record ?? from.job;
    for (const end of ["front", "rear"]) document.getElementById(`in-${end}-found`).hidden = !bike[end];
    if (from.job && !page.shown()) return wait("The sheet above is to be mended first.");
    const entered = read(form, "wheelrate/visit/1");
    const a = asked({ ...entered.value, ...from });
    const faults = judged(entered, a);
    $("keep").disabled = faults.length > 0;
    if (faults.some((f) => f.field.startsWith("job.sheet."))) return wait("An end that is known by its gauge and its ring takes its next reading above, beside the others; a record needs its chambers.");
    if (faults.length > 0) {
      const items = markFaults(form, faults, entered.lineOf);
      return wait(faults.length === 1 ? "The visit has 1 fault." : `The visit has ${faults.length} faults.`, items, faults);
    }
    clearFaults(form);
    next = a.next;
    $("faults").hidden = true;
    $("answer").hidden = false;
    $("answer").classList.remove("old");
    $("answer").replaceChildren(...a.sections.map(section));
    $("history").replaceChildren(...(a.history ? [picture(a.history)] : []));
    page.answered(a.steps, []);
    return a.said;
  }

  function wait(text, items = [], faults = []) {
    $("faults-count").textContent = text;
    $("faults-list").replaceChildren(...items);
    $("faults").hidden = false;
    $("keep").disabled = true;
    $("answer").classList.add("old");
    page.answered({}, faults);
    return [text, ...items.map((i) => i.textContent)].join(" ");
  }

  // take keeps the record of a file; it reports whether the text is one.
  function take(text, from) {
    let r;
    try { r = JSON.parse(text); } catch { return false; }
    if (typeof r?.schema !== "string" || !r.schema.startsWith("wheelrate/record/")) return false;
    const a = asked({ schema: "wheelrate/visit/1", date: r.date, record: r });
    if (a.faults) {
      trouble(`${from} holds no record that can be read: ` + a.faults.slice(0, 8).map((f) => (f.field ? f.field.replace(/^record\./, "") + ": " : "") + words(f)).join(". "));
      form.scrollIntoView();
      return true;
    }
    const list = kept();
    const same = list.findIndex((one) => JSON.stringify(one) === JSON.stringify(r));
    if (same < 0) list.unshift(r);
    keep(list, String(Math.max(same, 0)));
    work();
    form.scrollIntoView();
    tell("The record is opened.");
    return true;
  }

  cells(form);
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("change", (e) => { if (e.target.matches("[data-path]")) { writeUnits(e.target); refresh(form); } });
  form.addEventListener("input", (e) => { if (e.target.matches("[data-path], select")) tell(work() ?? ""); });
  $("open").addEventListener("click", () => $("file").click());
  $("file").addEventListener("change", async (e) => {
    const file = e.target.files[0];
    if (file && !take(await file.text(), `The file ${file.name}`)) trouble(`The file ${file.name} holds no record of a bike.`);
    e.target.value = "";
  });
  $("save").addEventListener("click", () => {
    save(record(), `record-${record().date}.json`);
  });
  $("forget").addEventListener("click", () => {
    const at = Number($("from").value);
    keep(kept().filter((_, i) => i !== at));
    work();
  });
  $("keep").addEventListener("click", () => {
    if (!next || $("keep").disabled) return;
    keep([next, ...kept()], "0");
    // What was found belongs to the record now.
    found();
    work();
    tell("The record is kept in this browser.");
    $("from").focus();
  });
  const today = new Date();
  const two = (n) => String(n).padStart(2, "0");
  form.querySelector('[data-path="date"]').value = `${today.getFullYear()}-${two(today.getMonth() + 1)}-${two(today.getDate())}`;
  // bike starts anew with the records of the bike that is shown.
  function bike() {
    const list = kept();
    next = undefined;
    $("answer").replaceChildren();
    $("history").replaceChildren();
    found();
    offer(list, list.length ? "0" : "");
    work();
  }
  offer(kept(), kept().length ? "0" : "");
  let waiting = 0;
  // again follows the sheet once typing there pauses.
  function again() {
    clearTimeout(waiting);
    waiting = setTimeout(() => work(), 200);
  }
  return { take, again, bike };
}
