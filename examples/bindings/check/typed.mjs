// Writes all that the dataset gives and the package answers as a TypeScript
// program, which compiles if the types allow all of it and require no more:
//
//	node typed.mjs PACKAGE CASES JOB-OR-RECORD... > typed.mts

import { readFileSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [directory, cases, ...documents] = process.argv.slice(2);
const { load } = await import(pathToFileURL(join(resolve(directory), 'node.js')));
const wheelrate = await load();
const read = (file) => JSON.parse(readFileSync(file, 'utf8'));

console.log("import type { Computations, Fault, Job, SettingRecord, Sheet, Version } from 'wheelrate';");
let count = 0;
const write = (type, value) => console.log(`export const v${count++}: ${type} = ${JSON.stringify(value)};`);

for (const name of readdirSync(cases)) {
  for (const group of read(join(cases, name)).groups) {
    for (const { computes, given } of group.cases) {
      const { answer, faults } = wheelrate.compute(computes, given);
      if (faults) {
        write('Fault[]', faults);
        continue;
      }
      write(`Computations['${computes}']['given']`, given);
      write(`Computations['${computes}']['answer']`, answer);
    }
  }
}
for (const document of documents.map(read)) {
  if (document.schema.startsWith('wheelrate/record/')) {
    write('SettingRecord', document);
    continue;
  }
  write('Job', document);
  write('Sheet', wheelrate.sheet(document).sheet);
}
write('Version', wheelrate.version());
