/** Before any test of the shell: what is shipped is built, because a module can only be stood in for where it is there already. */
import { buildShell } from '../../electron/build.ts';

export async function setup(): Promise<void> {
  await buildShell();
}
