// The reader of inputs. What every computation and form is given, in which
// kinds and ranges, stands in description/*.json of the dataset; the reader
// holds an object of JSON against it, turns quantities into SI, and collects
// the names of what it refuses.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { JSONNumber, JSONObject } from './json.mjs';

const longestList = 1000;

/** What can be wrong with a field; it decides which other faults are named. */
export const fault = {
  unknown: 'not described, or given twice',
  type: 'a text, flag, list or object of another type',
  unreadable: 'no quantity or number',
  range: 'out of its range',
  missing: 'missing',
  condition: 'in contradiction with others, or an unknown name',
};

/** Description is the dataset's description of computations, forms and kinds. */
export class Description {
  #described = new Map();
  #quantities = new Map();

  constructor(directory) {
    for (const name of ['format', 'forms', 'units', 'spring', 'airspring', 'linkage', 'sag']) {
      const file = JSON.parse(readFileSync(join(directory, 'description', `${name}.json`), 'utf8'));
      for (const d of [...(file.forms ?? []), ...(file.computations ?? [])]) this.#described.set(d.name, d);
      for (const q of file.quantities ?? []) this.#quantities.set(q.kind, q);
    }
  }

  /** The form or computation of a name. */
  of(name) {
    return this.#described.get(name);
  }

  isForm(kind) {
    return this.#described.has(kind);
  }

  isQuantity(kind) {
    return this.#quantities.has(kind);
  }

  /** A computation's or form's own fields and those of what it includes. */
  fields(name) {
    const { includes = [], inputs } = this.of(name);
    const all = new Map();
    for (const form of includes) for (const field of this.fields(form)) all.set(field.name, field);
    for (const field of inputs) all.set(field.name, field);
    return [...all.values()];
  }

  /** A form and all that it includes, the innermost first. */
  withIncluded(name) {
    return [...(this.of(name).includes ?? []).flatMap((form) => this.withIncluded(form)), name];
  }

  /** The SI value of a text, undefined if it is no quantity of the kind. */
  parse(kind, text) {
    const { units } = this.#quantities.get(kind);
    const parts = /^\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(\S.*?)\s*$/su.exec(text);
    if (!parts) return undefined;
    const unit = units.find(({ symbols }) => symbols.includes(parts[2]));
    const number = Number(parts[1]);
    if (!unit || !Number.isFinite(number)) return undefined;
    const [numerator, denominator = '1'] = unit.factor.split('/');
    const top = numerator === 'pi' ? Math.PI : Number(numerator);
    const value = ((number + Number(unit.zero ?? 0)) * top) / Number(denominator);
    return Number.isFinite(value) ? value : undefined;
  }

  /** The least value of a kind of quantity. */
  least(kind) {
    return this.#quantities.get(kind)?.least ?? -Infinity;
  }
}

/** Input is the object that a computation or a form is given, being read. */
class Input {
  values = {};
  #given = new Set();
  #first;

  constructor(reader, json, path) {
    this.reader = reader;
    this.json = json;
    this.path = path;
    this.#first = reader.faults.length;
  }

  /** Whether nothing in this object is bad, as far as it was read. */
  get clean() {
    return this.reader.faults.length === this.#first;
  }

  /** Whether the field stands there, and is not a 0 that counts as left out. */
  given(name) {
    return this.#given.has(name);
  }

  markGiven(name) {
    this.#given.add(name);
  }

  /** Whether all these fields have a value that is good by itself. */
  good(...names) {
    return names.every((name) => this.values[name] !== undefined);
  }

  /** How many elements the list that stands there has, 0 if there is none. */
  count(name) {
    const list = this.json.fields.get(name);
    return Array.isArray(list) ? list.length : 0;
  }

  at(name) {
    if (name === '') return this.path;
    return this.path === '' ? name : `${this.path}.${name}`;
  }

  /** Names a field, whose value is no good from then on. */
  refuse(name, kind = fault.condition) {
    this.reader.faults.push({ path: this.at(name), kind });
    delete this.values[name.split('[')[0].split('.')[0]];
  }

  /** Takes back that a field is missing. */
  excuse(name) {
    const { faults } = this.reader;
    const at = faults.findIndex(({ path, kind }) => path === this.at(name) && kind === fault.missing);
    if (at >= 0) faults.splice(at, 1);
  }

  /** Names what concerns no single field. */
  refuseNameless(name) {
    this.reader.faults.push({ path: name, kind: fault.condition });
  }

  /** Names only what is bad within a field: it hides the rest of this object. */
  refuseOnlyWithin(name) {
    const { faults } = this.reader;
    const within = faults.filter(({ path, kind }) => path.startsWith(this.at(name)) || kind === fault.unknown
      || (path === 'locks' && kind === fault.condition));
    if (within.length > 0) faults.splice(0, faults.length, ...within);
  }

  /** Names a field in place of all others of this object. */
  refuseAlone(name) {
    this.reader.faults.length = this.#first;
    this.refuse(name);
  }
}

/** Reader reads what one case gives. */
export class Reader {
  faults = [];

  /**
   * forms has, by name, what only the subject knows of a form or computation:
   * check(input), its conditions, and build(values), what to make of its values.
   */
  constructor(description, forms) {
    this.description = description;
    this.forms = forms;
  }

  /** The names to answer with. */
  get names() {
    const count = (kind) => this.faults.filter((f) => f.kind === kind).length;
    const hidden = new Set();
    if (count(fault.unknown) + count(fault.type) > 0) {
      hidden.add(fault.condition);
      if (count(fault.type) > 0 || count(fault.unknown) < 2) hidden.add(fault.missing);
    }
    return [...new Set(this.faults.filter((f) => !hidden.has(f.kind)).map((f) => f.path))];
  }

  /** The object of a form or computation, as its build returns it. */
  object(name, json, path) {
    const input = new Input(this, json, path);
    const fields = this.description.fields(name);
    const described = new Set(fields.map((field) => field.name));
    for (const [key] of json.fields) {
      if (!described.has(key) || json.twice.has(key)) input.refuse(key, fault.unknown);
    }
    for (const field of fields) {
      if (json.fields.has(field.name)) this.#field(input, field, json.fields.get(field.name));
    }
    for (const field of fields) this.#needed(input, field);
    for (const part of this.description.withIncluded(name)) {
      for (const choice of this.description.of(part).one_of ?? []) this.#oneOf(input, choice, fields);
    }
    for (const part of this.description.withIncluded(name)) this.forms[part]?.check?.(input);
    if (!input.clean) return undefined;
    const { build } = this.forms[name] ?? {};
    return build ? build(input.values, input) : input.values;
  }

  #field(input, field, json) {
    const isZero = (json instanceof JSONNumber && json.value === 0)
      || (typeof json === 'string' && this.description.isQuantity(field.kind) && this.description.parse(field.kind, json) === 0);
    if (field.zero_is_left_out && isZero) return;
    input.markGiven(field.name);
    const value = this.#value(input, field, json);
    if (value !== undefined) input.values[field.name] = value;
  }

  #needed(input, field) {
    const { name, kind } = field;
    if (input.given(name)) return;
    const isNeeded = field.left_out === undefined
      || (field.needed_with !== undefined && input.given(field.needed_with) && input.values[field.needed_with] !== 0)
      || (field.needed_without !== undefined && !field.needed_without.some((other) => input.given(other)));
    if (!isNeeded) return;
    if (this.description.isForm(kind) && !field.list && !field.map) {
      const value = this.object(kind, new JSONObject(), input.at(name));
      if (value !== undefined) input.values[name] = value;
    } else {
      input.refuse(name, fault.missing);
    }
  }

  #oneOf(input, { of, none }, fields) {
    const given = of.filter((name) => {
      const { needed_with: beside } = fields.find((field) => field.name === name);
      return input.given(name) || (beside !== undefined && input.given(beside));
    });
    if (given.length === 0 && none === '') input.refuse('');
    if (given.length === 0 && none !== '') input.refuse(none, fault.missing);
    if (given.length > 1 && none === '') input.refuse('');
    if (given.length > 1 && none !== '') for (const name of given.slice(1)) input.refuse(name);
  }

  #value(input, field, json) {
    if (field.map) {
      if (!(json instanceof JSONObject)) return input.refuse(field.name, fault.type);
      const map = new Map();
      for (const [key, element] of json.fields) {
        const at = `${field.name}.${key}`;
        if (json.twice.has(key)) input.refuse(at, fault.unknown);
        map.set(key, this.#list(input, { ...field, list: true }, element, at));
      }
      return [...map.values()].includes(undefined) ? undefined : map;
    }
    if (field.list || field.count) return this.#list(input, field, json, field.name);
    return this.#single(input, field, json, field.name);
  }

  #list(input, field, json, at) {
    if (!Array.isArray(json)) return input.refuse(at, fault.type);
    if (json.length > longestList) return input.refuse(at, fault.range);
    if (field.count && json.length !== field.count) return input.refuse(at, fault.range);
    if (field.least && json.length < field.least) return input.refuse(at, fault.missing);
    const values = json.map((element, i) => this.#single(input, field, element, `${at}[${i}]`));
    return values.includes(undefined) ? undefined : values;
  }

  #single(input, field, json, at) {
    const { kind } = field;
    if (this.description.isForm(kind)) {
      if (!(json instanceof JSONObject)) return input.refuse(at, fault.type);
      return this.object(kind, json, input.at(at));
    }
    if (kind === 'text') {
      if (typeof json !== 'string') return input.refuse(at, fault.type);
      if (field.choices && !field.choices.includes(json)) return input.refuse(at);
      return json;
    }
    if (kind === 'flag') return typeof json === 'boolean' ? json : input.refuse(at, fault.type);
    const value = this.#number(kind, json);
    if (value === undefined) return input.refuse(at, fault.unreadable);
    const { from = -Infinity, over = -Infinity, to = Infinity, below = Infinity } = field.range ?? {};
    const inside = value >= from && value <= to && value < below && (value > over || over === -Infinity);
    if (!inside || value < this.description.least(kind)) return input.refuse(at, fault.range);
    return value;
  }

  #number(kind, json) {
    if (this.description.isQuantity(kind)) {
      return typeof json === 'string' ? this.description.parse(kind, json) : undefined;
    }
    if (!(json instanceof JSONNumber) || !Number.isFinite(json.value)) return undefined;
    return kind === 'integer' && !json.isInteger ? undefined : json.value;
  }
}
