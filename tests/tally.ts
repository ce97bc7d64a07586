import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line that any reader of the log understands. */
export default class Tally implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    let passed = 0;
    let failed = 0;
    let skipped = 0;
    for (const module of modules) {
      if (module.state() === 'failed' && module.errors().length > 0) failed += 1;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state === 'passed') passed += 1;
        else if (state === 'failed') failed += 1;
        else skipped += 1;
      }
    }
    process.stdout.write(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}\n`);
  }
}
