import type { Computation, Computations, Fault, Job, Sheet, Version } from './types.js';

export * from './types.js';

/** What was asked, or everything that is wrong with it. */
export type Reply<Name extends string, Of> =
  | ({ [name in Name]: Of } & { faults?: undefined })
  | ({ [name in Name]?: undefined } & { faults: Fault[] });

/** The library. Its calls are synchronous; one with faults throws nothing. */
export interface Wheelrate {
  /** Answers a computation of the dataset. */
  compute<Name extends Computation>(computation: Name, given: Computations[Name]['given']): Reply<'answer', Computations[Name]['answer']>;
  /** Works a set-up job out. */
  sheet(job: Job): Reply<'sheet', Sheet>;
  /** Returns the numbers of quantities in a unit, such as "in". */
  convert(quantities: string[], unit: string): Reply<'numbers', number[]>;
  version(): Version;
  /** Returns the reply to a question; both are JSON. The others use it. */
  ask(question: string): string;
}

/** Thrown where the library has ended, for want of memory or a defect: load it anew. */
export class Stopped extends Error {}

/**
 * Loads the library, which takes some MB.
 *
 * @param module the compiled wheelrate.wasm; where it is left out, the one beside this package is read, in a
 * browser by fetch, from a server that sends it as application/wasm
 */
export function load(module?: WebAssembly.Module): Promise<Wheelrate>;
