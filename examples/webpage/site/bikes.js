// Bikes are what is kept on this device: for each its name, the form as it was left,
// faults and all, and the records of its visits.

const store = "wheelrate-bikes", schema = "wheelrate/bikes/1";
const most = 60; // steps that can be undone

// formOf is what a form holds: the texts of its fields, the answers to its
// switches, and the fields for which a value is taken for granted.
export function formOf(form) {
  const kept = { texts: {}, switches: {}, taken: [], fresh: [] };
  for (const s of form.querySelectorAll("[data-switches][data-fresh]")) kept.fresh.push(s.id);
  for (const i of form.querySelectorAll("[data-path]:not([type=hidden])")) {
    if (i.value !== "") kept.texts[i.id] = i.value;
    if (i.dataset.taken) kept.taken.push(i.id);
    if (i.dataset.fresh) kept.fresh.push(i.id);
  }
  for (const r of form.querySelectorAll("input[type=radio]:checked")) kept.switches[r.name] = r.value;
  return kept;
}

// put fills a form in as it was.
export function put(form, kept) {
  for (const i of form.querySelectorAll("[data-path]:not([type=hidden])")) {
    i.value = String(kept.texts[i.id] ?? "");
    mark(i, "taken", kept.taken.includes(i.id));
    mark(i, "fresh", kept.fresh.includes(i.id));
  }
  for (const s of form.querySelectorAll("[data-switches]")) mark(s, "fresh", kept.fresh.includes(s.id));
  for (const r of form.querySelectorAll("input[type=radio]")) r.checked = kept.switches[r.name] === r.value;
}

// mark sets or removes a flag of an element.
export function mark(e, flag, on) {
  if (on) e.dataset[flag] = "yes"; else delete e.dataset[flag];
}

const whole = (b) => b && typeof b.id === "string" && typeof b.name === "string" && Array.isArray(b.records) &&
  b.form && [b.form.texts, b.form.switches].every((o) => o && typeof o === "object") && Array.isArray(b.form.taken) && Array.isArray(b.form.fresh);

// Bikes is the list, and which of them is shown. Told is called with what a person must
// know of keeping it.
export class Bikes {
  constructor(told) {
    this.told = told;
    this.undone = [];
    this.list = [];
    let text = null;
    try { text = localStorage.getItem(store); } catch { told("This browser keeps nothing: save the job as a file before the page is closed."); }
    if (text === null) return;
    try {
      const kept = JSON.parse(text);
      if (kept.schema !== schema || !Array.isArray(kept.bikes) || !kept.bikes.every(whole)) throw new TypeError("not a list of bikes");
      this.list = kept.bikes;
      this.id = kept.current;
    } catch {
      try { localStorage.setItem(store + "-unread", text); } catch { /* no room to keep it */ }
      told("What this browser had kept can't be read, and the page starts anew. It is put aside, not thrown away.");
    }
  }

  get current() { return this.list.find((b) => b.id === this.id) ?? this.list[0]; }

  // add makes a bike and shows it; one that holds the very same is shown instead.
  add(name, form, mark) {
    const text = JSON.stringify(form);
    let bike = this.list.find((b) => mark ? b.mark === mark : b.name === name && JSON.stringify(b.form) === text);
    if (!bike) {
      bike = { id: crypto.randomUUID(), name: this.free(name), mark, records: [] };
      this.list.push(bike);
    }
    bike.form = form;
    this.id = bike.id;
    this.undone = [];
    this.keep();
  }

  // free is a name that no other bike has.
  free(name) {
    const has = (n) => this.list.some((b) => b.name === n);
    if (!has(name)) return name;
    let n = 2;
    while (has(`${name} (${n})`)) n++;
    return `${name} (${n})`;
  }

  show(id) {
    this.id = id;
    this.undone = [];
    this.keep();
  }

  rename(name) {
    const own = this.current;
    if (!name || name === own.name) return;
    own.name = "";
    own.name = this.free(name);
    this.keep();
  }

  forget() {
    this.list = this.list.filter((b) => b !== this.current);
    this.show(this.list[0]?.id);
  }

  // change keeps the form of the bike that is shown; step says that it can be undone.
  change(form, step) {
    const own = this.current;
    if (JSON.stringify(own.form) === JSON.stringify(form)) return;
    if (step) this.undone = [...this.undone, own.form].slice(-most);
    own.form = form;
    this.keep();
  }

  undo() {
    const form = this.undone.pop();
    if (form) { this.current.form = form; this.keep(); }
    return form;
  }

  setRecords(list) {
    this.current.records = list;
    return this.keep();
  }

  // keep reports whether all of it is kept.
  keep() {
    try {
      localStorage.setItem(store, JSON.stringify({ schema, current: this.id, bikes: this.list }));
      return true;
    } catch {
      this.told("This browser keeps nothing, or has no room left: save job and records as files before the page is closed.");
      return false;
    }
  }
}
