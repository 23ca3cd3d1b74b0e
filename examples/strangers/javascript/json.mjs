// A reader of JSON that keeps what the description distinguishes and JSON.parse
// does not: how a number is written, and fields that stand twice.

/** A number as it is written. */
export class JSONNumber {
  constructor(text) {
    this.text = text;
    this.value = Number(text);
  }
  get isInteger() {
    return /^-?\d+$/.test(this.text);
  }
}

/** An object: fields is a Map, twice the set of names that stand twice. */
export class JSONObject {
  fields = new Map();
  twice = new Set();
}

const token = /\s*("(?:[^"\\]|\\.)*"|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null|[{}[\],:])/y;

/** parseJSON returns the value that a text of JSON has. */
export function parseJSON(text) {
  let at = 0;
  const next = () => {
    token.lastIndex = at;
    const found = token.exec(text);
    if (!found) throw new SyntaxError(`invalid JSON at ${at}`);
    at = token.lastIndex;
    return found[1];
  };
  const peek = () => {
    const before = at;
    const t = next();
    at = before;
    return t;
  };
  // elements reads up to the closing mark, calling element before each comma.
  const elements = (closing, element) => {
    if (peek() === closing) {
      next();
      return;
    }
    for (;;) {
      element();
      const t = next();
      if (t === closing) return;
      if (t !== ',') throw new SyntaxError(`invalid JSON at ${at}`);
    }
  };
  const value = () => {
    const t = next();
    switch (t[0]) {
      case '{': {
        const object = new JSONObject();
        elements('}', () => {
          const name = JSON.parse(next());
          if (next() !== ':') throw new SyntaxError(`invalid JSON at ${at}`);
          if (object.fields.has(name)) object.twice.add(name);
          object.fields.set(name, value());
        });
        return object;
      }
      case '[': {
        const list = [];
        elements(']', () => list.push(value()));
        return list;
      }
      case '"':
        return JSON.parse(t);
      case 't':
        return true;
      case 'f':
        return false;
      case 'n':
        return null;
      case '}': case ']': case ',': case ':':
        throw new SyntaxError(`invalid JSON at ${at}`);
    }
    return new JSONNumber(t);
  };
  return value();
}
