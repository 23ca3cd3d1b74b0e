// A program of somebody who has installed the package. It is compiled, which
// holds the types against it, and run.

import { readFileSync } from 'node:fs';
import { load, type Force, type Job, type Reply, type Sheet } from 'wheelrate';

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
if (fault?.class !== 'unknown') throw new Error(JSON.stringify(fault));

const job: Job = JSON.parse(readFileSync(process.argv[2]!, 'utf8'));
const { sheet, faults }: Reply<'sheet', Sheet> = wheelrate.sheet(job);
if (faults || !sheet.front || sheet.cautions.length === 0) throw new Error(JSON.stringify(faults));

// Two instances have memories of their own, and a text beyond ASCII comes back whole.
const other = await load();
const note = 'Äther · 氷 · 🚲';
if (other.sheet({ ...job, note }).sheet?.note !== note) throw new Error('the note has changed');
const [half] = other.sheet({ ...job, note: '\ud800' }).faults ?? [];
if (half?.class !== 'syntax') throw new Error('half a character is no fault');
if (other.version().dataset !== wheelrate.version().dataset) throw new Error('two versions');
if (!wheelrate.ask('x'.repeat(1 << 24)).includes('"range"')) throw new Error('16 MiB are no fault');
console.log(`rear ${rear}`);
