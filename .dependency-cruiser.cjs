/** The dependency rule of the house: renderer → core, electron → core, core → nothing of ours. Circles are Biome's to find. */
module.exports = {
  forbidden: [
    {
      name: 'core-knows-nothing-of-ours',
      severity: 'error',
      from: { path: '^core/' },
      to: { path: '^(electron|renderer|tests|fixtures)/' },
    },
    {
      name: 'core-is-pure',
      comment: 'no Node, no page, no shell',
      severity: 'error',
      from: { path: '^core/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'core-needs-no-machine-library',
      severity: 'error',
      from: { path: '^core/' },
      to: { path: 'node_modules/(better-sqlite3|drizzle-orm|electron|react|react-dom|highs|@react-pdf)/' },
    },
    {
      name: 'page-knows-only-core',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^(electron|tests|fixtures)/' },
    },
    {
      name: 'page-has-no-node',
      severity: 'error',
      from: { path: '^renderer/', pathNot: 'vite\\.config\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'shell-knows-only-core',
      severity: 'error',
      from: { path: '^electron/' },
      to: { path: '^(renderer|tests)/' },
    },
    {
      name: 'only-the-shell-imports-electron',
      severity: 'error',
      from: { path: '^electron/', pathNot: '^electron/(main|preload|window)\\.ts$' },
      to: { path: 'node_modules/electron/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^dist/|^out/)' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.js', '.mjs', '.cjs'],
    },
  },
};
