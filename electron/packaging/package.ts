/** `npm run package`: builds everything anew and makes this system's packages in out/packages. */
import { build } from 'electron-builder';
import { prepareToPack } from './prepare.ts';
import { packaging } from './settings.ts';

await prepareToPack();
await build({ config: packaging, publish: 'never' });
