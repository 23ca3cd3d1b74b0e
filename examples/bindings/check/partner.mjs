// Answers the dataset's cases by the package, over the protocol of the
// dataset's description, and measures what a call costs:
//
//	node partner.mjs PACKAGE
//
// PACKAGE is the directory of the built package. A line
// {"question": {…}, "calls": n} is replied to by the seconds that so many calls
// took.

import { createInterface } from 'node:readline';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const { load } = await import(pathToFileURL(join(resolve(process.argv[2]), 'node.js')));
const wheelrate = await load();

/** seconds is the processor time of so many calls. */
function seconds(question, calls) {
  const began = process.cpuUsage();
  for (let i = 0; i < calls; i++) JSON.parse(wheelrate.ask(JSON.stringify(question)));
  const { user, system } = process.cpuUsage(began); // in microseconds
  return (user + system) / 1e6;
}

/** What good inputs come to is named by its code, a bad field by its path. */
const name = ({ field, code }) => (['topped_out', 'bottomed_out', 'locks'].includes(code) ? code : field);

function reply({ hello, question, calls, id, computes, given }) {
  if (hello) return { hello: 'wheelrate/protocol/1', program: `WebAssembly in Node ${process.version}` };
  if (calls) return { seconds: seconds(question, calls) };
  const { answer, faults } = wheelrate.compute(computes, given);
  return faults ? { id, error: faults.map(name) } : { id, answer };
}

for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  process.stdout.write(`${JSON.stringify(reply(JSON.parse(line)))}\n`);
}
