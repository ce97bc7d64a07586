/** Everything that needs no test runner: types, format and lint, forbidden imports, dead code. Prints only what is wrong. */
import { spawn } from 'node:child_process';

const checks: readonly (readonly [string, readonly string[]])[] = [
  ['types of core', ['tsc', '-p', 'core']],
  ['types of the shell', ['tsc', '-p', 'electron']],
  ['types of the page', ['tsc', '-p', 'renderer']],
  ['types of the tests', ['tsc', '-p', 'tests']],
  ['format and lint', ['biome', 'ci', '.', '--colors=off']],
  ['forbidden imports', ['depcruise', '--config', '.dependency-cruiser.cjs', 'core', 'electron', 'renderer', 'tests']],
  ['dead code', ['knip', '--no-progress']],
];

function run(command: readonly string[]): Promise<{ code: number; output: string }> {
  return new Promise((resolve) => {
    const [program, ...args] = command;
    const child = spawn(program as string, args, { shell: process.platform === 'win32' });
    let output = '';
    child.stdout.on('data', (chunk) => {
      output += chunk;
    });
    child.stderr.on('data', (chunk) => {
      output += chunk;
    });
    child.on('error', (error) => resolve({ code: 1, output: String(error) }));
    child.on('close', (code) => resolve({ code: code ?? 1, output }));
  });
}

const results = await Promise.all(checks.map(async ([name, command]) => ({ name, ...(await run(command)) })));
for (const { name, code, output } of results) {
  console.log(`${code === 0 ? 'ok    ' : 'FAILED'} ${name}`);
  if (code !== 0) console.log(output);
}
if (results.some((result) => result.code !== 0)) process.exitCode = 1;
