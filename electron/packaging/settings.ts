/**
 * What is packed, for whom, and how: the settings electron-builder is given. Every system's package is made on that system, since
 * sharp's and the database's native parts are installed for the system npm runs on.
 */
import type { Configuration } from 'electron-builder';

/** Common practice, no source: what a person will still fetch over a slow line. Electron itself is not counted. */
export const packedLimitBytes = 120 * 1024 * 1024;

const systems = ['darwin', 'linux', 'linuxmusl', 'win32'] as const;

/** Of a list that only leaves things out everything else would be packed, so that every system's list begins with this one. */
const packed = [
  'dist/**',
  '!dist/packaging',
  '!dist/.building-*',
  'package.json',
  'LICENSE',
  '!**/*.{map,ts,mts,cts,tsbuildinfo}',
  '!**/{test,tests,__tests__,docs,example,examples,benchmark,.github}/**',
  // Sources the native part was made from.
  '!node_modules/better-sqlite3/{deps,src,binding.gyp}',
];

/** The database's package carries every system's native part; one is enough. */
function filesFor(kept: readonly string[]): string[] {
  const others = systems.filter((system) => !kept.includes(system));
  return [...packed, ...others.map((system) => `!node_modules/better-sqlite3/prebuilds/${system}-*`)];
}

export const packaging: Configuration = {
  appId: 'org.kettlestitch.workshop',
  productName: 'Kettlestitch',
  copyright: 'The founders of Kettlestitch. MIT licence.',
  directories: { output: 'out/packages', buildResources: 'dist/packaging' },
  asar: true,
  // Native code cannot be loaded from inside an archive.
  asarUnpack: ['**/*.node', '**/node_modules/@img/**', '**/node_modules/sharp/**'],
  // The database's loader prefers a rebuilt part to its own, and its own is the one that fits.
  npmRebuild: false,
  electronFuses: {
    runAsNode: false,
    enableCookieEncryption: true,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    grantFileProtocolExtraPrivileges: false,
  },
  fileAssociations: [
    {
      ext: 'kettlestitch',
      name: 'Kettlestitch workshop',
      description: 'A whole workshop in one file, to be put back',
      mimeType: 'application/x-kettlestitch',
      role: 'Editor',
    },
  ],
  linux: {
    target: ['AppImage', 'deb'],
    category: 'Office',
    synopsis: 'A workshop manager for one book repairer',
    maintainer: 'Kettlestitch',
    files: filesFor(['linux', 'linuxmusl']),
  },
  mac: {
    target: [{ target: 'dmg', arch: ['universal'] }],
    category: 'public.app-category.productivity',
    hardenedRuntime: true,
    files: filesFor(['darwin']),
  },
  win: { target: ['nsis'], files: filesFor(['win32']) },
  nsis: { oneClick: false, perMachine: false, allowToChangeInstallationDirectory: true },
  // Nothing is looked for or published by the packaging.
  publish: null,
};
