// Between the form and a job: paths, kinds, units, links. What a value means is the
// library's to say; here texts are only put where they belong.
import { ask, customary } from "./calc.js?v={{.Version}}";

// A number alone takes the unit that is chosen.
const bare = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const unitOf = (units) => (units ? units.split("|")[customary() ? 1 : 0] : "");
export const withUnit = (text, units) => (units && bare.test(text) ? `${text} ${unitOf(units)}` : text);

// writeUnits writes the units taken into a field, so that they stay what they are.
export function writeUnits(input) {
  const { kind, unit } = input.dataset;
  let text = input.value;
  if (kind === "quantity") text = withUnit(text.trim(), unit);
  if (kind === "list") text = cellsOf(text).map((c) => withUnit(c, unit)).join(", ");
  if (kind === "lines" && !titled(input)) {
    const columns = columnsOf(input).filter((c) => c.kind !== "object");
    text = text.split("\n").map((line) => {
      const cells = cellsOf(line), full = columns[0].kind === "text" || cells.length > columns.length || line.trim().startsWith("{") ? cells : cells.map((c, i) => withUnit(c, columns[i]?.unit));
      return full.some((c, i) => c !== cells[i]) ? full.join(", ") : line;
    }).join("\n");
  }
  if (text !== input.value) input.value = text;
}

// What the library itself takes for granted where every spring is known by its gauge.
const ownBlank = /^(masses\.|ambient$)|\.(head_angle|outside_diameter)$/;

// textOf is what stands in a field, or what is taken for granted there.
const textOf = (input) => input.value.trim() || (input.dataset.taken ? input.dataset.typical : "");

// read takes every visible field into a value, a job or a visit. It also returns
// which line of a field each entry came from, so that a fault can name it, the lines
// that have more parts than their field has columns, and the paths that were taken for
// granted.
export function read(form, schema) {
  const job = { schema };
  const lineOf = {}, over = [], taken = [];
  // An end with a spring is there, whatever is known of it.
  const parts = [...form.querySelectorAll("[data-part]")].filter((c) => !c.closest("[hidden]")).map((c) => c.dataset.part);
  for (const part of parts) put(job, part, {});
  const springs = parts.filter((p) => p.includes(".")), gauged = springs.length > 0 && springs.every((p) => p.endsWith(".gauge"));
  for (const input of form.querySelectorAll("[data-path]")) {
    const text = textOf(input), path = input.dataset.path;
    if (text === "" || input.closest("[hidden]")) continue;
    if (input.value.trim() === "") {
      if (gauged && ownBlank.test(path)) continue;
      taken.push(path);
    }
    switch (input.dataset.kind) {
      case "lines": lineOf[path] = titled(input) ? readTable(job, input, over) : readLines(job, input, over); break;
      case "object": put(job, path, parse(text)); break;
      case "list": put(job, path, cellsOf(text).map((c) => withUnit(c, input.dataset.unit))); break;
      default: put(job, path, value(input.dataset.kind, text, input.dataset.unit));
    }
    if (input.type === "hidden" && input.closest("[data-case=unknown]")) taken.push(path);
  }
  return { value: job, lineOf, over, taken };
}

// judged are the faults of what was read, with the library's answer to it. A line with
// too many parts is a fault of its own, and the only one told of that line; so are the
// faults of a field that could not be read as CSV.
export function judged({ over }, answer) {
  const lines = new Set(over.map((f) => f.field));
  const line = (field) => [/^(.*?\[\d+\])/, /^(.*?)\.\w+(\[\d+\])$/].map((form) => form.exec(field)?.slice(1).join(""));
  const unread = over.map((f) => f.unread).filter(Boolean);
  return [...over, ...(answer.faults ?? []).filter((f) => !line(f.field).some((l) => lines.has(l)) && !unread.some((path) => f.field.startsWith(path + ".")))];
}

// value is a text as JSON has it. One that is no number stays text, and the
// library says what it wants instead.
function value(kind, text, units) {
  if (kind === "quantity") return withUnit(text, units);
  const plain = /^[+]?((?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?|-(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)$/;
  if (kind === "share") {
    const percent = /^(-?(?:\d+\.?\d*|\.\d+))\s*%$/.exec(text);
    if (percent) return Number(percent[1] + "e-2");
  }
  if ((kind === "share" || kind === "number") && plain.test(text)) return Number(text);
  return text;
}

function parse(text) {
  try { return JSON.parse(text); } catch { return text; }
}

function columnsOf(input) {
  return input.dataset.columns.split(",").map((c) => {
    const [name, kind, unit] = c.split(":");
    return { name, kind, unit };
  });
}

// cellsOf are the parts of a line. Commas part them, unless semicolons or tabs do.
export function cellsOf(line) {
  const cells = line.split(/[;\t]/.test(line) ? /[;\t]/ : ",").map((c) => c.trim());
  while (cells.length && cells.at(-1) === "") cells.pop();
  return cells;
}

// titled reports whether a field of columns holds CSV, whose header says what they are.
const titled = (input) => input.dataset.shape === "columns" && /stroke|shock|damper|travel|wheel|lever|px|pixel/i.test(input.value);

// readTable has the library read a field as CSV. It returns what to call each point of it.
function readTable(job, input, over) {
  const path = input.dataset.path, { faults, table } = ask("wheelrateTable", input.value);
  put(job, path, table ?? {});
  if (table) return Object.values(table).find(Array.isArray).map((_, i) => `${i + 1} of the points`);
  over.push(...faults.map((f) => ({ ...f, field: f.field ? `${path}.${f.field}` : path, unread: path })));
  return undefined;
}

// readLines returns the line that each entry of a field is from.
function readLines(job, input, over) {
  const all = columnsOf(input), columns = all.filter((c) => c.kind !== "object"), path = input.dataset.path;
  const rows = [], lineOf = [];
  textOf(input).split("\n").forEach((line, i) => {
    // What the columns can't say is a line of JSON.
    if (all.length > columns.length && line.trim().startsWith("{")) {
      rows.push(parse(line.trim()));
      lineOf.push(i + 1);
      return;
    }
    let cells = cellsOf(line);
    if (cells.length === 0) return;
    // A name may have commas in it: what stands before the first number is it.
    if (columns[0].kind === "text") {
      const number = cells.findIndex((c, i) => i > 0 && /^\d*\.?\d+ *%?$/.test(c));
      const to = number > 0 ? number : Math.max(1, cells.length - columns.length + 1);
      cells = [cells.slice(0, to).join(", "), ...cells.slice(to)];
    }
    if (cells.length > columns.length) {
      over.push({
        field: `${path}[${rows.length}]`, value: line.trim(),
        want: columns.map((c) => c.name.replaceAll("_", " ")).join(", ") + " and no more; a decimal point is a point, not a comma",
      });
    }
    rows.push(cells);
    lineOf.push(i + 1);
  });
  if (input.dataset.shape === "columns") {
    // A number at the end may stand for one of the columns before it, which then has no cells.
    const given = columns.map((c, i) => rows.some((r) => r[i]));
    const instead = columns.some((c, i) => c.kind === "number" && given[i]);
    columns.forEach((c, i) => {
      if (given[i] || !instead && c.kind !== "number") {
        put(job, path + "." + c.name, rows.map((r) => value(c.kind, r[i] ?? "", c.unit)));
      }
    });
    return lineOf;
  }
  put(job, path, rows.map((r) => {
    if (!Array.isArray(r)) return r;
    const one = {};
    columns.forEach((c, i) => { if (r[i]) one[c.name] = value(c.kind, r[i], c.unit); });
    return one;
  }));
  return lineOf;
}

// saidBy reports whether a job says what a case of a switch is for: that the part is
// there, that something has its fixed value, or else any field of it.
function saidBy(c, job) {
  const has = (path) => get(job, path) !== undefined;
  if (c.dataset.part) return has(c.dataset.part);
  const fixed = c.querySelector(":scope > [data-kind=fixed], :scope > .fields > [data-kind=fixed]");
  if (fixed) return get(job, fixed.dataset.path) === fixed.value;
  return [...c.querySelectorAll("[data-path]")].some((i) => has(i.dataset.path));
}

// write puts a job into the form: switches first, then every field. An end that the
// job lacks is "none"; a question that it leaves open stays open.
export function write(form, job) {
  for (const s of form.querySelectorAll("[data-switches]")) {
    const name = s.dataset.switches;
    // A group of several cases says nothing of which it is.
    const cases = [...form.querySelectorAll(`[data-switch="${name}"]`)].filter((c) => !c.dataset.case.includes(" "));
    const given = cases.find((c) => saidBy(c, job));
    const open = "question" in s.dataset || name in job; // an end of no known kind
    const without = cases.find((c) => c.dataset.case === "none" && !open) ?? cases[0];
    const pick = given ?? (open ? undefined : without);
    for (const radio of form.querySelectorAll(`input[type=radio][name="${name}"]`)) radio.checked = radio.value === pick?.dataset.case;
  }
  for (const input of form.querySelectorAll("[data-path]")) {
    if (input.dataset.kind === "fixed") continue;
    const v = get(job, input.dataset.path);
    delete input.dataset.taken;
    delete input.dataset.fresh;
    input.value = v === undefined ? "" : shown(input, v);
  }
  for (const d of form.querySelectorAll("details details:not(.find, .raw)")) {
    d.open = [...d.querySelectorAll("[data-path]")].some((i) => i.dataset.kind !== "fixed" && i.value !== "" && !i.closest("[hidden]"));
  }
}

// pretty is a value as JSON, with lists of plain values on one line; no text has a line break in it.
export const pretty = (v) => JSON.stringify(v, null, 1).replace(/\[\n\s*([^[\]{}]*?)\n\s*\]/g, (_, inside) => "[" + inside.replace(/\n\s*/g, " ") + "]");

function shown(input, v) {
  switch (input.dataset.kind) {
    case "lines": return shownLines(input, v);
    case "object": return pretty(v);
    case "list": return v.join(", ");
    case "share": return shownShare(v);
    default: return String(v);
  }
}

// shownShare is a share as a percentage where that reads back as the same number.
function shownShare(v) {
  const text = String(Number((v * 100).toPrecision(12)));
  return typeof v === "number" && Number(text + "e-2") === v ? text + " %" : String(v);
}

function shownLines(input, v) {
  const all = columnsOf(input), columns = all.filter((c) => c.kind !== "object");
  const cell = (c, x) => (x === undefined ? "" : c.kind === "share" ? shownShare(x) : String(x));
  let rows;
  if (input.dataset.shape === "columns") {
    const lists = columns.map((c) => v[c.name] ?? []);
    rows = Array.from({ length: Math.max(...lists.map((l) => l.length)) }, (_, i) => columns.map((c, j) => cell(c, lists[j][i])));
  } else {
    const whole = (one) => all.some((c) => c.kind === "object" && one[c.name] !== undefined);
    rows = v.map((one) => (whole(one) ? [JSON.stringify(one)] : columns.map((c) => cell(c, one[c.name]))));
  }
  return rows.map((r) => r.join(", ").replace(/(, )+$/, "")).join("\n");
}

function put(job, path, v) {
  const names = path.split(".");
  let at = job;
  for (const n of names.slice(0, -1)) at = at[n] ??= {};
  at[names.at(-1)] = v;
}

function get(job, path) {
  let at = job;
  for (const n of path.split(".")) {
    if (at === null || typeof at !== "object" || !Object.hasOwn(at, n)) return undefined;
    at = at[n];
  }
  return at === null ? undefined : at;
}

// Links: the job's JSON, deflated, in the letters that a link may have.

const most = 1 << 20; // bytes of a job, as the library takes them

export async function toLink(job) {
  const bytes = await through(new CompressionStream("deflate-raw"), new TextEncoder().encode(JSON.stringify(job)));
  let s = "";
  for (const b of bytes) s += String.fromCharCode(b);
  return "#job=" + btoa(s).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

export async function fromLink(fragment) {
  const s = atob(fragment.replace(/^#job=/, "").replaceAll("-", "+").replaceAll("_", "/"));
  const bytes = await through(new DecompressionStream("deflate-raw"), Uint8Array.from(s, (c) => c.charCodeAt(0)));
  return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
}

async function through(stream, bytes) {
  const writer = stream.writable.getWriter();
  writer.write(bytes).catch(() => {});
  writer.close().catch(() => {}); // a fault shows where it is read
  const parts = [];
  let size = 0;
  for (const reader = stream.readable.getReader(); ;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > most) { reader.cancel().catch(() => {}); throw new RangeError("too long for a job"); }
    parts.push(value);
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const p of parts) { all.set(p, at); at += p.length; }
  return all;
}
