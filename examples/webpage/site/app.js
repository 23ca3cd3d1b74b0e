// The page: what is entered goes to the library at every change, and what the
// library answers is shown.
import { read, write, judged, toLink, fromLink } from "./job.js?v={{.Version}}";
import { show, el, title } from "./show.js?v={{.Version}}";
import { clearFaults, linkFor, markFaults, words } from "./faults.js?v={{.Version}}";
import { returns } from "./visit.js?v={{.Version}}";
import { linkage } from "./linkage.js?v={{.Version}}";

const $ = (id) => document.getElementById(id);
const form = $("job");
const start = "{{.First}}", jobSchema = "wheelrate/job/1";
let answer; // the last one that had no fault
let visits; // what is asked when the bike comes back
let linked; // the view of the rear linkage
let listened = 0, waiting = 0;

// Switches show one of several groups.
function applySwitches() {
  for (const c of form.querySelectorAll("[data-switch]")) {
    const on = form.querySelector(`input[type=radio][name="${c.dataset.switch}"]:checked`);
    c.hidden = !on || on.value !== c.dataset.case;
  }
}

const customary = () => document.querySelector("input[name=units]:checked").value === "customary";

function width() {
  const shown = document.querySelector(".pictures");
  return Math.floor(shown.clientWidth) || Math.min(document.documentElement.clientWidth - 40, 560);
}

function ask(job) {
  return JSON.parse(globalThis.wheelrate(JSON.stringify(job), width(), customary()));
}

// judge is what the form says now, with the library's answer.
function judge() {
  const entered = read(form, jobSchema);
  const a = ask(entered.value);
  return { job: entered.value, lineOf: entered.lineOf, faults: judged(entered, a), answer: a };
}

// work answers what the form says now. Faults are told once typing pauses, or at once
// where patient is false. Until they are mended the last sheet without one stands,
// marked as such.
function work(patient) {
  applySwitches();
  const { job, lineOf, faults, answer: a } = judge();
  clearTimeout(waiting);
  if (faults.length === 0) {
    clearFaults(form);
    answer = a;
    $("faults").hidden = true;
    const hidden = $("sheet").hidden;
    $("sheet").hidden = false;
    $("sheet").classList.remove("old");
    if (hidden && width() !== lastWidth) { lastWidth = width(); answer = ask(job); }
    show(answer, (path) => linkFor(form, path));
    bar(...["front", "rear"].filter((end) => answer[end]).map((end) => `${title(end)}: ${answer[end].brief}`));
    linked.show(job.rear?.curve?.mechanism);
    tell(answer.said);
    visits.again();
    return;
  }
  visits.again();
  $("sheet").classList.add("old");
  const say = () => showFaults(faults, lineOf);
  if (patient) waiting = setTimeout(say, 600); else say();
}
let lastWidth = 0;

// tell reads a text out once nothing has changed for a while.
function tell(text) {
  clearTimeout(listened);
  listened = setTimeout(() => { $("status").textContent = text; }, 700);
}

function bar(...parts) {
  $("bar").hidden = false;
  $("bar").replaceChildren(...parts.map((p) => el("span", {}, p)));
}

function showFaults(faults, lineOf) {
  const items = markFaults(form, faults, lineOf);
  const count = faults.length === 1 ? "The job has 1 fault." : `The job has ${faults.length} faults.`;
  const before = answer ? " The sheet is the last one without." : " No sheet.";
  $("faults-count").textContent = count + before;
  $("faults-list").replaceChildren(...items);
  $("faults").hidden = false;
  $("sheet").hidden = !answer;
  bar(count + before);
  tell(`${count} ` + items.map((i) => i.textContent).join(". "));
}

function trouble(text, list = []) {
  $("trouble").hidden = !text;
  $("trouble").replaceChildren(el("p", {}, text), ...(list.length ? [el("ul", {}, ...list.map((t) => el("li", {}, t)))] : []));
}

// load puts the text of a job into the form; one that can't be read is reported
// and changes nothing.
function load(text, from) {
  if (visits.take(text, from)) return false; // a record, not a job
  let a = JSON.parse(globalThis.wheelrate(text, width(), customary()));
  if (a.unreadable) {
    trouble(`${from} holds no job that can be read.`, a.faults.slice(0, 8).map((f) => (f.field ? f.field + ": " : "") + words(f)));
    return false;
  }
  trouble("");
  write(form, JSON.parse(text));
  answer = undefined; // the last sheet was another job's
  work(false);
  return true;
}

const demo = (name) => $("demo-" + name).textContent;

async function openLink() {
  if (!location.hash.startsWith("#job=")) return false;
  let text;
  try {
    text = await fromLink(location.hash);
  } catch (e) {
    trouble("This link holds no job that can be read: " + (e instanceof RangeError ? "it is longer than any job." : "it was cut off or changed on its way."));
    return false;
  }
  $("demo").value = "";
  return load(text, "This link");
}

function wire() {
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("input", (e) => {
    if (e.target.matches("[data-path], input[type=radio]")) { $("shared").hidden = true; work(true); }
  });
  form.addEventListener("change", (e) => { if (e.target.matches("[data-path]")) work(false); });
  for (const u of document.querySelectorAll("input[name=units]")) u.addEventListener("change", () => work(false));
  $("demo").addEventListener("change", (e) => { if (e.target.value) load(demo(e.target.value), "The demonstration"); });
  $("open").addEventListener("click", () => $("file").click());
  $("file").addEventListener("change", async (e) => {
    const file = e.target.files[0];
    if (file && load(await file.text(), `The file ${file.name}`)) $("demo").value = "";
    e.target.value = "";
  });
  $("save").addEventListener("click", () => {
    const url = URL.createObjectURL(new Blob([JSON.stringify(read(form, jobSchema).value, null, 2) + "\n"], { type: "application/json" }));
    el("a", { href: url, download: "job.json" }).click();
    setTimeout(() => URL.revokeObjectURL(url), 10000);
  });
  $("share").addEventListener("click", shareIt);
  addEventListener("hashchange", openLink);
  let resizing = 0;
  addEventListener("resize", () => {
    clearTimeout(resizing);
    resizing = setTimeout(() => { if (!$("sheet").hidden && width() !== lastWidth) { lastWidth = width(); work(true); } }, 150);
  });
}

async function shareIt() {
  const { job, faults } = judge();
  if (faults.length > 0) {
    work(false);
    $("faults").scrollIntoView({ block: "center" });
    tell("No link: the job has faults.");
    return;
  }
  const fragment = await toLink(job);
  history.replaceState(null, "", fragment);
  $("link").value = location.href;
  $("shared").hidden = false;
  let said = "The link is in the field below, to be copied.";
  try {
    await navigator.clipboard.writeText(location.href);
    said = "The link is copied.";
  } catch {
    $("link").focus();
    $("link").select();
  }
  tell(said);
  $("share").textContent = said === "The link is copied." ? "Link copied" : "Copy a link to it";
  setTimeout(() => { $("share").textContent = "Copy a link to it"; }, 3000);
}

async function fetchProgram(imports) {
  const source = "wheelrate.wasm?v={{.Version}}";
  const answer = await fetch(source);
  if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
  if (answer.headers.get("Content-Type")?.startsWith("application/wasm")) return WebAssembly.instantiateStreaming(answer, imports);
  return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}

async function begin() {
  const go = new globalThis.Go();
  const ready = new Promise((done) => { globalThis.wheelrateReady = done; });
  const { instance } = await fetchProgram(go.importObject);
  go.run(instance);
  await ready;
  $("loading").hidden = true;
  wire();
  visits = returns({ job: () => read(form, jobSchema).value, shown: () => Boolean(answer) && !$("sheet").classList.contains("old"), tell });
  linked = linkage($("linkage"), (mechanism) => {
    const text = form.querySelector('[data-path="rear.curve.mechanism"]');
    text.value = JSON.stringify(mechanism, null, 1).replace(/\[\n\s*([^[\]{}]*?)\n\s*\]/g, (_, inside) => "[" + inside.replace(/\n\s*/g, " ") + "]");
    $("shared").hidden = true;
    work(false);
  }, tell);
  if (!(await openLink())) {
    const told = $("trouble").cloneNode(true);
    load(demo(start), "The demonstration");
    $("demo").value = start;
    if (!told.hidden) { // what was wrong with a link stays told
      $("trouble").replaceChildren(...told.childNodes, el("p", {}, "The demonstration is shown instead."));
      $("trouble").hidden = false;
    }
  }
  document.documentElement.dataset.ready = "yes";
}

begin().catch((e) => {
  $("loading").hidden = true;
  trouble("The calculation could not be loaded: " + e.message);
});

if ("serviceWorker" in navigator && isSecureContext) {
  navigator.serviceWorker.register("sw.js").then(() => navigator.serviceWorker.ready).then(() => {
    $("offline").textContent = "This page is kept in the browser and works offline.";
  }).catch(() => {});
}
