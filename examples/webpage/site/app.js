// The set-up: what is entered goes to the library at every change, and what the
// library answers is shown.
import { ask, customary, el, ready, tell, trouble } from "./calc.js?v={{.Version}}";
import { Bikes, formOf, mark, put } from "./bikes.js?v={{.Version}}";
import { cells, refresh } from "./cells.js?v={{.Version}}";
import { read, write, judged, writeUnits } from "./job.js?v={{.Version}}";
import { card, grants, show } from "./show.js?v={{.Version}}";
import { clearFaults, linkFor, markFaults, words } from "./faults.js?v={{.Version}}";
import { files, openLink } from "./files.js?v={{.Version}}";
import { advise, offerRing, rings } from "./ring.js?v={{.Version}}";
import { workshop } from "./workshop.js?v={{.Version}}";
import { returns } from "./visit.js?v={{.Version}}";

const $ = (id) => document.getElementById(id);
const form = $("job"), ends = ["front", "rear"];
const start = "{{.First}}", jobSchema = "wheelrate/job/1";
const out = (name) => document.querySelector(`[data-out="${name}"]`);
let answer; // the last one that had no fault
let visits; // what is asked when the bike comes back
let bikes; // all that is kept here
let waiting = 0, granting = 0, typing = false;

// Switches show one of several groups.
function applySwitches() {
  for (const c of form.querySelectorAll("[data-switch]")) {
    const on = form.querySelector(`input[type=radio][name="${c.dataset.switch}"]:checked`);
    c.hidden = !on || !c.dataset.case.split(" ").includes(on.value);
  }
  for (const i of form.querySelectorAll("[data-typical]")) i.placeholder = i.dataset.taken ? i.dataset.typical.replace(/\n[^]*\n/, " to ") + " (taken)" : "";
  refresh(form);
  for (const end of ends) $("asked-" + end).hidden = !form.querySelector(`input[name="${end}"]:checked`);
}

// width is that of the pictures; 0 while they are folded away, and not drawn.
function width() {
  if (!$("fold-feels").open) return 0;
  return Math.floor(document.querySelector(".pictures").clientWidth) || Math.min($("main").clientWidth - 60, 560);
}
let lastWidth = 0;

const asked = (job) => ask("wheelrate", JSON.stringify(job), lastWidth = width(), customary());

// judge is what the form says now, with the library's answer.
function judge() {
  const entered = read(form, jobSchema);
  const a = asked(entered.value);
  return { job: entered.value, lineOf: entered.lineOf, taken: entered.taken, faults: judged(entered, a), answer: a };
}

const link = (path, short) => linkFor(form, path, short);

// work answers what the form says now. Faults are told once typing pauses, or at once
// where patient is false. Until they are mended the last sheet without one stands,
// marked as such; the card of an end without a fault follows all the same.
function work(patient) {
  applySwitches();
  const { job, lineOf, taken, faults, answer: a } = judge();
  clearTimeout(waiting);
  clearTimeout(granting);
  if (faults.length === 0) {
    clearFaults(form);
    answer = a;
    $("faults").hidden = true;
    $("sheet").hidden = false;
    $("sheet").classList.remove("old");
    show(answer, link, taken);
    $("workshop-show").hidden = false;
    for (const end of ends) {
      offerRing(end, answer[end]);
      if (!answer[end] && !form.querySelector(`input[name="${end}"]:checked`)) hint(end, "Say what is in it.");
    }
    if (taken.length) granting = setTimeout(() => grants(ask("wheelrateTaken", JSON.stringify(job), JSON.stringify(taken))), 150);
    tell(answer.said);
    visits.again();
    return;
  }
  visits.again();
  $("sheet").classList.add("old");
  old(job, faults, taken);
  const say = () => showFaults(faults, lineOf);
  if (patient) waiting = setTimeout(say, 600); else say();
}

// old marks the cards as those of before, but for that of an end whose job by itself
// has no fault.
function old(job, faults, taken) {
  for (const end of ends) {
    const other = ends.find((e) => e !== end);
    let alone;
    if (job[end] && job[other] && faults.every((f) => f.field === other || f.field.startsWith(other + ".") || f.field.endsWith("_" + other))) {
      alone = asked({ ...job, [other]: undefined });
    }
    if (alone && !alone.faults) {
      card(end, alone[end], link, taken);
      continue;
    }
    const at = out(end + ".card"), before = at.querySelector(".before");
    at.classList.toggle("old", Boolean(before));
    if (before) before.hidden = false;
    else hint(end, job[end] ? "The answer stands here once the rest is said below." : "Say what is in it.");
  }
}

const hint = (end, text) => out(end + ".card").replaceChildren(el("p", { class: "hint" }, text));

function showFaults(faults, lineOf) {
  const items = markFaults(form, faults, lineOf);
  const wait = items.every((i) => i.className === "awaited");
  const count = wait ? "To be said yet:" : faults.length === 1 ? "The job has 1 fault." : `The job has ${faults.length} faults.`;
  $("faults").classList.toggle("awaited", wait);
  $("faults").querySelector("h2").hidden = wait;
  $("faults-count").textContent = count + (wait ? "" : answer ? " The sheet is the last one without." : " No sheet.");
  $("faults-list").replaceChildren(...items);
  $("faults").hidden = false;
  $("sheet").hidden = !answer;
  tell(`${count} ` + items.map((i) => i.textContent).join(". "));
}

// keep keeps the form as it is; step says that it can be undone.
function keep(step) {
  bikes.change(formOf(form), step);
  $("undo").disabled = bikes.undone.length === 0;
}

// open shows the bike that is chosen.
function open() {
  answer = undefined; // the last sheet was another bike's
  out("first-cautions").replaceChildren();
  $("workshop-show").hidden = true;
  for (const end of ends) {
    out(end + ".card").replaceChildren();
    offerRing(end, false);
    $(end + "-ring").value = "";
  }
  put(form, bikes.current.form);
  offer();
  applySwitches();
  visits?.bike();
  work(false);
}

// offer lists the bikes.
function offer() {
  $("bike").replaceChildren(...bikes.list.map((b) => el("option", { value: b.id }, b.name)));
  $("bike").value = bikes.current.id;
  $("bike-name").value = bikes.current.name;
  $("undo").disabled = bikes.undone.length === 0;
}

// load makes a bike of the text of a job; one that can't be read is reported and
// changes nothing.
function load(text, from, name, mark) {
  if (visits.take(text, from)) return false; // a record, not a job
  const a = ask("wheelrate", text, width(), customary());
  if (a.unreadable) {
    trouble(`${from} holds no job that can be read.`, a.faults.slice(0, 8).map((f) => (f.field ? f.field + ": " : "") + words(f)));
    return false;
  }
  trouble("");
  write(form, JSON.parse(text));
  bikes.add(name, formOf(form), mark);
  open();
  for (const end of ends) $("asked-" + end).open = false;
  return true;
}


// fresh makes a bike of which nothing is said: what may be taken for granted is, until
// it is entered.
function fresh() {
  for (const i of form.querySelectorAll("[data-path]:not([type=hidden])")) {
    i.value = "";
    mark(i, "fresh", true);
    mark(i, "taken", i.dataset.typical);
  }
  for (const r of form.querySelectorAll("input[type=radio]")) r.checked = false;
  for (const s of form.querySelectorAll("[data-switches]")) mark(s, "fresh", true);
  for (const [name, value] of [["share", "share"], ["front.curve", "fork"], ["rear.curve", "constant"]]) form.querySelector(`input[name="${name}"][value="${value}"]`).checked = true;
  bikes.add("My bike", formOf(form), "");
  open();
  $("menu").open = false;
  for (const end of ends) $("asked-" + end).open = true;
  $("masses.rider_mass").focus();
}

const demo = (name) => load($("demo-" + name).textContent, "The demonstration", $("demo").querySelector(`[value="${name}"]`).textContent, "demo-" + name);

function wire() {
  cells(form);
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("input", (e) => {
    if (!e.target.matches("[data-path], input[type=radio]")) return;
    $("shared").hidden = true;
    if (e.target.value !== "") mark(e.target, "taken", false);
    if (e.target.matches("#in-front input[name=front], #in-rear input[name=rear]")) $("asked-" + e.target.name).open = true;
    keep(!typing);
    typing = true;
    work(true);
  });
  form.addEventListener("change", (e) => {
    if (!e.target.matches("[data-path], input[type=radio]")) return;
    mark(e.target, "fresh", false);
    if (e.target.dataset.path) writeUnits(e.target);
    keep(!typing);
    typing = false;
    if (e.target.dataset.path) work(false);
  });
  form.addEventListener("click", (e) => {
    const field = $(e.target.closest("[data-take]")?.dataset.take);
    if (!field) return;
    field.value = "";
    mark(field, "taken", true);
    mark(field, "fresh", false);
    field.closest(".field").querySelector("details").open = false;
    field.focus();
    keep(true);
    work(false);
  });
  for (const radio of document.querySelectorAll("input[name=units]")) radio.addEventListener("change", () => work(false));
  $("bike").addEventListener("change", () => { bikes.show($("bike").value); open(); });
  $("bike-name").addEventListener("change", () => { bikes.rename($("bike-name").value.trim()); offer(); });
  $("bike-new").addEventListener("click", fresh);
  $("bike-forget").addEventListener("click", () => {
    bikes.forget();
    if (bikes.list.length === 0) fresh(); else open();
  });
  $("undo").addEventListener("click", () => {
    if (!bikes.undo()) return;
    put(form, bikes.current.form);
    $("undo").disabled = bikes.undone.length === 0;
    work(false);
    tell("Undone.");
  });
  $("demo").addEventListener("change", (e) => { if (e.target.value) demo(e.target.value); });
  files({ job: () => read(form, jobSchema).value, judge, work, load });
  rings();
  workshop(() => { const { job, faults } = judge(); return faults.length ? undefined : job; });
  addEventListener("hashchange", () => openLink(load));
  $("fold-feels").addEventListener("toggle", () => { if (width() && width() !== lastWidth) work(true); });
  let resizing = 0;
  addEventListener("resize", () => {
    clearTimeout(resizing);
    resizing = setTimeout(() => { if (!$("sheet").hidden && width() !== lastWidth) work(true); }, 150);
  });
}

async function begin() {
  await ready;
  bikes = new Bikes((text) => trouble(text));
  wire();
  if (!bikes.current) { // the first time
    write(form, JSON.parse($("demo-" + start).textContent));
    bikes.add($("demo").querySelector(`[value="${start}"]`).textContent, formOf(form), "demo-" + start);
  }
  visits = returns({
    bikes, job: () => read(form, jobSchema).value, shown: () => Boolean(answer) && !$("sheet").classList.contains("old"), answered: advise,
  });
  if (!(await openLink(load))) {
    open();
    if (location.hash.startsWith("#job=")) $("trouble").append(el("p", {}, `${bikes.current.name} is shown instead.`));
  }
  document.documentElement.dataset.ready = "yes";
}

begin();
