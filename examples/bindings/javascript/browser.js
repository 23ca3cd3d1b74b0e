import { Wheelrate } from './wheelrate.js';

export { Stopped } from './wheelrate.js';

export async function load(module) {
  module ??= await WebAssembly.compileStreaming(fetch(new URL('wheelrate.wasm', import.meta.url)));
  return Wheelrate.start(module, crypto);
}
