// A second implementation of the reference cases, in JavaScript without
// libraries. It speaks the protocol of the dataset's description over standard
// input and output.
//
//	node stranger.mjs [DIRECTORY]
//
// DIRECTORY has the dataset's description/ and materials.json; without it, those
// of this repository are read.

import { createInterface } from 'node:readline';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseJSON } from './json.mjs';
import { Description, Reader } from './reader.mjs';
import { subjects } from './subjects.mjs';

const protocol = 'wheelrate/protocol/1';
const directory = process.argv[2] ?? join(dirname(fileURLToPath(import.meta.url)), '../../../refdata/data');

const description = new Description(directory);
const { forms, computations } = subjects(description, directory);

/** answer is what a case's inputs come to: outputs, or names of bad fields. */
function answer(computes, given) {
  const reader = new Reader(description, forms);
  const values = reader.object(computes, given, '');
  if (reader.names.length > 0) return { error: reader.names };
  const refused = [];
  const refuse = (...names) => {
    refused.push(...names);
  };
  const outputs = computations[computes](values, refuse);
  return refused.length > 0 ? { error: refused } : { answer: outputs };
}

function reply(line) {
  const message = parseJSON(line);
  if (message.fields.has('hello')) {
    return { hello: protocol, program: 'stranger.mjs 1', form: 'text', computes: Object.keys(computations) };
  }
  const id = message.fields.get('id');
  const computes = message.fields.get('computes');
  if (!(computes in computations)) return { id, skip: 'not attempted' };
  return { id, ...answer(computes, message.fields.get('given')) };
}

for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  process.stdout.write(`${JSON.stringify(reply(line))}\n`);
}
