// A program of somebody who has installed the package. It is compiled, which
// holds the types against it, and run.

import { readFileSync } from 'node:fs';
import { Stopped, load, type Force, type Job, type Reply, type Sheet } from 'wheelrate';

const wheelrate = await load();

const loads = wheelrate.compute('sag.loads', {
  rider_mass: '82 kg',
  bike_mass: '16.8 kg',
  rear_share: 0.58,
  unsprung_front: '2.4 kg',
  unsprung_rear: '3.2 kg',
});
if (loads.faults) throw new Error(JSON.stringify(loads.faults));
const rear: Force = loads.answer.rear_load;
// By hand: (0.58·98.8 − 3.2) kg · 9.80665 m/s² = 530.5790 N
const [newtons] = wheelrate.convert([rear], 'N').numbers ?? [];
if (newtons === undefined || Math.abs(newtons - 530.579) > 1e-3) throw new Error(rear);

// @ts-expect-error: an input that the computation doesn't have
const unknown = wheelrate.compute('sag.loads', { ...{ rider_mass: '82 kg', rear_share: 0.58, bike_mass: '16 kg' }, colour: 'red' });
// @ts-expect-error: a number without its unit
const bare = wheelrate.compute('sag.loads', { rider_mass: 82, bike_mass: '16 kg', rear_share: 0.58 });
for (const [reply, field] of [[unknown, 'colour'], [bare, 'rider_mass']] as const) {
  if (reply.answer || !reply.faults.some((fault) => fault.field === field)) throw new Error(JSON.stringify(reply));
}

// @ts-expect-error: a computation that doesn't exist
const [fault] = wheelrate.compute('spring.leaf', {}).faults ?? [];
if (fault?.code !== 'unknown') throw new Error(JSON.stringify(fault));

const job: Job = JSON.parse(readFileSync(process.argv[2]!, 'utf8'));
const { sheet, faults }: Reply<'sheet', Sheet> = wheelrate.sheet(job);
if (faults || !sheet.front || sheet.cautions.length === 0) throw new Error(JSON.stringify(faults));

// Two instances have memories of their own, and a text beyond ASCII comes back whole.
const other = await load();
const note = 'Äther · 氷 · 🚲';
if (other.sheet({ ...job, note }).sheet?.note !== note) throw new Error('the note has changed');
const [half] = other.sheet({ ...job, note: '\ud800' }).faults ?? [];
if (half?.code !== 'syntax') throw new Error('half a character is no fault');
if (other.version().dataset !== wheelrate.version().dataset) throw new Error('two versions');
if (!wheelrate.ask('x'.repeat(1 << 24)).includes('"range"')) throw new Error('16 MiB are no fault');

// A module of which ask traps, as it would where memory runs out. In its text form:
// (module (memory (export "memory") 1) (func (export "_initialize"))
//   (func (export "reserve") (param i32) (result i32) i32.const 0)
//   (func (export "ask") (result i32) unreachable)
//   (func (export "reply") (result i32) i32.const 0))
const trap = `0061736d 01000000 010d03 600000 60017f017f 6000017f 030504 00010202 0503010001 073005 066d656d6f72790200
  0b5f696e697469616c697a650000 07726573657276650001 0361736b0002 057265706c790003
  0a1204 02000b 040041000b 0300000b 040041000b`.match(/[0-9a-f]{2}/g)!;
const broken = await load(await WebAssembly.compile(Uint8Array.from(trap, (byte) => parseInt(byte, 16))));
for (let again = 0; again < 2; again++) {
  try {
    broken.version();
    throw new Error('a module that has ended replies');
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
  }
}
console.log(`rear ${rear}`);
