import { host } from './wasi.js';

/** Stopped is thrown where the library has ended, for want of memory or a defect. It is to be loaded anew. */
export class Stopped extends Error {
  name = 'Stopped';
}

/** Wheelrate is the library in a WebAssembly module of its own, with its own memory. */
export class Wheelrate {
  #exports;
  #stopped;

  /** start starts the library of a compiled module, with a source of random numbers. */
  static async start(module, crypto) {
    const library = new Wheelrate();
    const functions = host(crypto, () => library.#exports.memory, (status) => {
      throw new Stopped(`wheelrate has ended with status ${status}`);
    });
    // In a page a module of this size is not instantiated at once.
    const instance = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: functions });
    library.#exports = instance.exports;
    library.#guarded(() => library.#exports._initialize());
    return library;
  }

  /** #guarded runs what calls the module. After an error its state is not known. */
  #guarded(work) {
    if (this.#stopped) throw this.#stopped;
    try {
      return work();
    } catch (error) {
      this.#stopped = error instanceof Stopped ? error : new Stopped('wheelrate has stopped', { cause: error });
      throw this.#stopped;
    }
  }

  ask(question) {
    const text = new TextEncoder().encode(question);
    return this.#guarded(() => {
      const { reserve, ask, reply, memory } = this.#exports;
      const room = reserve(text.length) >>> 0;
      if (room !== 0) new Uint8Array(memory.buffer, room, text.length).set(text);
      const size = ask() >>> 0; // by which the memory may have grown: only now is its buffer looked up
      return new TextDecoder().decode(new Uint8Array(memory.buffer, reply() >>> 0, size));
    });
  }

  compute(computation, given) {
    return JSON.parse(this.ask(JSON.stringify({ computation, given })));
  }

  sheet(job) {
    return JSON.parse(this.ask(JSON.stringify({ job })));
  }

  convert(quantities, unit) {
    return JSON.parse(this.ask(JSON.stringify({ convert: quantities, unit })));
  }

  version() {
    return JSON.parse(this.ask('{"version":true}')).version;
  }
}
