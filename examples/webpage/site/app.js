// The page: what is entered goes to the library at every change, and what the
// library answers is shown.
import { read, write, toLink, fromLink } from "./job.js?v={{.Version}}";
import { show, el, title } from "./show.js?v={{.Version}}";

const $ = (id) => document.getElementById(id);
const form = $("job");
const start = "{{.First}}";
let answer; // the last one that had no fault
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

// work answers what the form says now. Faults are told once typing pauses, or
// at once where patient is false; until then the old sheet stands, marked.
function work(patient) {
  applySwitches();
  const { job, lineOf } = read(form);
  const a = ask(job);
  clearTimeout(waiting);
  if (!a.faults) {
    clearFaults();
    answer = a;
    $("faults").hidden = true;
    const hidden = $("sheet").hidden;
    $("sheet").hidden = false;
    $("sheet").classList.remove("old");
    if (hidden && width() !== lastWidth) { lastWidth = width(); answer = ask(job); }
    show(answer);
    bar(answer.front ? `Front: ${answer.front.brief}` : "", answer.rear ? `Rear: ${answer.rear.brief}` : "");
    tell(answer.said);
    return;
  }
  $("sheet").classList.add("old");
  const say = () => showFaults(a.faults, lineOf);
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

function clearFaults() {
  for (const p of form.querySelectorAll(".fault")) p.textContent = "";
  for (const i of form.querySelectorAll("[aria-invalid]")) i.removeAttribute("aria-invalid");
}

const visible = (i) => !i.closest("[data-case][hidden]");

// place is the field that a fault belongs to: its own, the first one inside
// what the fault names, or the nearest around it.
function place(path) {
  const fields = [...form.querySelectorAll("[data-path]")].filter(visible);
  let bare = path.replace(/\[.*?\]/g, "");
  // The air around is asked once for both ends; an end's own is the exception.
  if (bare.endsWith(".air.ambient") && fields.some((f) => f.dataset.path === bare && f.value.trim() === "")) bare = "ambient";
  for (let p = bare; p; p = p.includes(".") ? p.slice(0, p.lastIndexOf(".")) : "") {
    const hit = fields.find((f) => f.dataset.path === p) ?? (p === bare ? fields.find((f) => f.dataset.path.startsWith(p + ".")) : undefined);
    if (hit) return hit;
  }
  return undefined;
}

function showFaults(faults, lineOf) {
  clearFaults();
  const items = faults.map((f) => {
    const input = f.field ? place(f.field) : undefined;
    if (!input) return el("li", {}, (f.field ? f.field + ": " : "") + words(f));
    const path = input.dataset.path;
    const index = /\[(\d+)\]/.exec(f.field.slice(path.length) || f.field);
    let where = "";
    if (index && lineOf[path]) {
      const column = /\.?(\w+)(?:\[\d+\])?$/.exec(f.field);
      where = `line ${lineOf[path][index[1]] ?? "?"}, ${column[1].replaceAll("_", " ")}: `;
    }
    const beside = title(where + words(f, input));
    const p = $(path + "-fault");
    if (!p.textContent) p.textContent = beside;
    else if (!p.textContent.includes(beside)) p.textContent += "; " + beside;
    input.setAttribute("aria-invalid", "true");
    input.closest("details")?.setAttribute("open", "");
    const link = el("a", { href: "#" + path }, name(input));
    link.addEventListener("click", (e) => { e.preventDefault(); input.focus(); input.scrollIntoView({ block: "center" }); });
    return el("li", {}, link, ": " + where + words(f, input));
  });
  const count = faults.length === 1 ? "The job has 1 fault." : `The job has ${faults.length} faults.`;
  $("faults-count").textContent = count;
  $("faults-list").replaceChildren(...items);
  $("faults").hidden = false;
  $("sheet").hidden = true;
  bar("No sheet. " + count);
  tell(`No sheet. ${count} ` + items.map((i) => i.textContent).join(". "));
}

// words say what was given and what is wanted.
function words(f, input) {
  if (input && input.value.trim() === "") return `nothing entered; want ${f.want}`;
  return f.value ? `${f.value}; want ${f.want}` : `want ${f.want}`;
}

function name(input) {
  const block = input.closest(".block").querySelector("legend").textContent;
  return block + ", " + form.querySelector(`label[for="${CSS.escape(input.id)}"]`).textContent.toLowerCase();
}

function trouble(text, list = []) {
  $("trouble").hidden = !text;
  $("trouble").replaceChildren(el("p", {}, text), ...(list.length ? [el("ul", {}, ...list.map((t) => el("li", {}, t)))] : []));
}

// load puts the text of a job into the form; one that can't be read is reported
// and changes nothing.
function load(text, from) {
  let a = JSON.parse(globalThis.wheelrate(text, width(), customary()));
  if (a.unreadable) {
    trouble(`${from} holds no job that can be read.`, a.faults.slice(0, 8).map((f) => (f.field ? f.field + ": " : "") + words(f)));
    return false;
  }
  trouble("");
  write(form, JSON.parse(text));
  applySwitches();
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
    const url = URL.createObjectURL(new Blob([JSON.stringify(read(form).job, null, 2) + "\n"], { type: "application/json" }));
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
  const { job } = read(form);
  if (ask(job).faults) {
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
