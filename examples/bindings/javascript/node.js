import { webcrypto } from 'node:crypto'; // which Node 18 has not made global
import { readFile } from 'node:fs/promises';
import { Wheelrate } from './wheelrate.js';

export { Stopped } from './wheelrate.js';

export async function load(module) {
  module ??= await WebAssembly.compile(await readFile(new URL('wheelrate.wasm', import.meta.url)));
  return Wheelrate.start(module, webcrypto);
}
