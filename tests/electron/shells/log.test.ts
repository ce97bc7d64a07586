import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openLog } from '../../../electron/log.ts';
import { temporaryFolder } from '../test-desk.ts';

test('defects are numbered on after a restart, so that a number means one line', () => {
  const file = join(temporaryFolder(), 'deep', 'kettlestitch.log');
  const first = openLog(file);
  expect(first.defect(new Error('lost the thread'), 'bench.plan')).toBe(1);
  expect(first.defect('a string thrown', 'shelf.list')).toBe(2);
  first.note('A backup was made.');
  expect(openLog(file).defect(new TypeError('again'), 'bench.plan')).toBe(3);

  const lines = readFileSync(file, 'utf8').trim().split('\n');
  const read = lines.map((line) => JSON.parse(line));
  expect(read.map((line) => line.defect)).toEqual([1, 2, undefined, 3]);
  expect(read[0]).toMatchObject({ where: 'bench.plan', err: { message: 'lost the thread' } });
  expect(read[0].err.stack).toContain('log.test.ts');
  expect(read[1].err.message).toBe('a string thrown');
});

test('a full log is set aside once, and the numbers go on', () => {
  const file = join(temporaryFolder(), 'kettlestitch.log');
  const filler = `${JSON.stringify({ msg: 'x'.repeat(1000) })}\n`.repeat(5200);
  writeFileSync(file, `${filler}{"level":50,"defect":41}\n`);
  expect(openLog(file).defect(new Error('next'), 'here')).toBe(42);
  expect(existsSync(`${file}.old`)).toBe(true);
  expect(readFileSync(file, 'utf8').trim().split('\n')).toHaveLength(1);
  expect(openLog(file).defect(new Error('and on'), 'here')).toBe(43);
});
