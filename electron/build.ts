/** Builds the page and the desktop's main process with Vite, when their sources are newer than what was built. */
import { cpSync, existsSync, mkdirSync, readdirSync, rmdirSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
export const builtPage = join(root, 'dist', 'renderer');
const builtShell = join(root, 'dist', 'electron');
const settings = ['package.json', 'package-lock.json', 'tsconfig.json'];

/** Builds dist/renderer if the page's sources are newer. */
export async function buildPage(): Promise<void> {
  await alone('renderer', join(builtPage, 'index.html'), ['renderer', 'core', ...settings], async () => {
    const { build } = await import('vite');
    // Where it says otherwise, as under the test runner, the page would be built with React's slow half of checks for developers.
    const usual = process.env.NODE_ENV;
    process.env.NODE_ENV = 'production';
    try {
      await build({ configFile: join(root, 'renderer', 'vite.config.ts'), mode: 'production' });
    } finally {
      if (usual === undefined) delete process.env.NODE_ENV;
      else process.env.NODE_ENV = usual;
    }
  });
}

/**
 * Builds dist/electron and dist/core: one module a source file, so that worker threads (named …-worker.ts) and files beside a module
 * are found where the source says; libraries stay in node_modules. The sandboxed preload becomes one CommonJS file.
 */
export async function buildShell(): Promise<void> {
  await alone('electron', join(builtShell, 'preload.cjs'), ['electron', 'core', ...settings], async () => {
    const { build } = await import('vite');
    const shared = { configFile: false, root, logLevel: 'warn', publicDir: false } as const;
    const sources = filesUnder(join(root, 'electron'));
    const threads = sources.filter((file) => file.endsWith('-worker.ts'));
    await build({
      ...shared,
      ssr: { external: true },
      build: {
        ssr: true,
        outDir: 'dist',
        emptyOutDir: false,
        target: 'node22',
        minify: false,
        rolldownOptions: {
          input: [join(root, 'electron', 'main.ts'), ...threads],
          output: { format: 'es', preserveModules: true, preserveModulesRoot: root, entryFileNames: '[name].mjs' },
        },
      },
    });
    for (const file of sources.filter((source) => extname(source) === '.sql')) {
      cpSync(file, join(root, 'dist', file.slice(root.length)));
    }
    // The invented workshop is part of the program: anyone can look around in it.
    cpSync(join(root, 'fixtures', 'demo'), join(root, 'dist', 'fixtures', 'demo'), { recursive: true });
    await build({
      ...shared,
      build: {
        outDir: 'dist/electron',
        emptyOutDir: false,
        target: 'es2023',
        minify: false,
        lib: { entry: join(root, 'electron', 'preload.ts'), formats: ['cjs'], fileName: () => 'preload.cjs' },
        rolldownOptions: { external: ['electron'] },
      },
    });
  });
}

/** Runs `work` when `product` is older than `sources`; of several processes that want it at once, one builds and the others wait. */
async function alone(name: string, product: string, sources: readonly string[], work: () => Promise<void>) {
  if (!isStale(product, sources)) return;
  const lock = join(root, 'dist', `.building-${name}`);
  mkdirSync(join(root, 'dist'), { recursive: true });
  for (;;) {
    try {
      mkdirSync(lock);
      break;
    } catch {
      // A lock left behind by a process that was killed; no build takes as long.
      if (Date.now() - (statSync(lock, { throwIfNoEntry: false })?.mtimeMs ?? 0) > 120_000) rmdirSync(lock);
      await pause(100);
    }
  }
  try {
    if (isStale(product, sources)) await work();
  } finally {
    rmdirSync(lock);
  }
}

function isStale(product: string, sources: readonly string[]): boolean {
  if (!existsSync(product)) return true;
  const builtAt = statSync(product).mtimeMs;
  return sources.some((source) => {
    const path = join(root, source);
    const files = statSync(path).isDirectory() ? filesUnder(path) : [path];
    return files.some((file) => statSync(file).mtimeMs > builtAt);
  });
}

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}
