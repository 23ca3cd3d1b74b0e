// The calculation: the library as a WebAssembly program, loaded once for a page, and
// what every page needs beside it. A page imports ready and ask:
//
//	await ready;
//	const answer = ask("wheelrateTable", text);

// ask calls a function of the program, whose answer is JSON text.
export const ask = (name, ...args) => JSON.parse(globalThis[name](...args));

// ready is kept once the program runs. A failure is told on the page.
export const ready = start().catch((e) => {
  hide("loading");
  trouble("The calculation could not be loaded: " + e.message);
  throw e;
});

async function start() {
  const go = new globalThis.Go();
  const running = new Promise((done) => { globalThis.wheelrateReady = done; });
  const { instance } = await fetchProgram(go.importObject);
  go.run(instance);
  await running;
  hide("loading");
}

async function fetchProgram(imports) {
  const answer = await fetch("wheelrate.wasm?v={{.Version}}");
  if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
  if (answer.headers.get("Content-Type")?.startsWith("application/wasm")) return WebAssembly.instantiateStreaming(answer, imports);
  return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}

function hide(id) { document.getElementById(id).hidden = true; }

// el makes an element.
export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) if (v !== undefined) e.setAttribute(k, v);
  e.append(...children.filter((c) => c !== undefined && c !== ""));
  return e;
}

// trouble shows a text at the top of the page, or nothing for "".
export function trouble(text, list = []) {
  const at = document.getElementById("trouble");
  at.hidden = !text;
  at.replaceChildren(el("p", {}, text), ...(list.length ? [el("ul", {}, ...list.map((t) => el("li", {}, t)))] : []));
}

// tell has a text read out once nothing has changed for a while.
let telling = 0;
export function tell(text) {
  clearTimeout(telling);
  telling = setTimeout(() => { document.getElementById("status").textContent = text; }, 700);
}

// Units are chosen once for all pages, and kept.
const store = "wheelrate-units";
export const customary = () => document.querySelector("input[name=units]:checked").value === "customary";
for (const radio of document.querySelectorAll("input[name=units]")) {
  try { radio.checked = radio.value === (localStorage.getItem(store) ?? "metric"); } catch { /* nothing is kept here */ }
  radio.addEventListener("change", () => { try { localStorage.setItem(store, radio.value); } catch { /* nor here */ } });
}
if (!document.querySelector("input[name=units]:checked")) document.querySelector("input[name=units]").checked = true;

if ("serviceWorker" in navigator && isSecureContext) {
  navigator.serviceWorker.register("sw.js").then(() => navigator.serviceWorker.ready).then(() => {
    document.getElementById("offline").textContent = "This page is kept in the browser and works offline.";
  }).catch(() => {});
}
