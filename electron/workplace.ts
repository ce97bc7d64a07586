/** What a shell needs before it can answer: a desk with its clock, log and folders, and the workshop it was asked to start with. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import { assert } from '../core/result.ts';
import packageJson from '../package.json' with { type: 'json' };
import type { Desk } from './desk/desk.ts';
import { router } from './desk/router.ts';
import { openLog } from './log.ts';
import { makeSharing } from './sharing.ts';

export type StartOptions = Readonly<{
  browser: boolean;
  demo: boolean;
  workshop: string | null;
  port: number | null;
}>;

/** Reads the flags of `npm start -- …`; a sentence when they make no sense. */
export function readFlags(args: readonly string[]): StartOptions | string {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        browser: { type: 'boolean', default: false },
        demo: { type: 'boolean', default: false },
        workshop: { type: 'string' },
        port: { type: 'string' },
      },
    });
    const port = values.port === undefined ? null : Number(values.port);
    if (port !== null && !(Number.isInteger(port) && port >= 1024 && port <= 65_535)) {
      return `--port ${values.port}: a port is a whole number from 1024 to 65535.`;
    }
    if (values.demo && values.workshop !== undefined) return 'Choose either --demo or --workshop, not both.';
    const workshop = values.workshop === undefined ? null : resolve(values.workshop);
    return { browser: values.browser, demo: values.demo, workshop, port };
  } catch (error) {
    const usage = 'Flags: --browser, --demo, --workshop FOLDER, --port NUMBER.';
    return `${error instanceof Error ? error.message.split('. ')[0] : String(error)}. ${usage}`;
  }
}

export type Folders = Readonly<{
  /** Where the log and the name of the last workshop are kept. */
  state: string;
  /** Where new workshops are offered. */
  home: string;
}>;

/** The folders this system keeps such things in. `KETTLESTITCH_STATE` and `KETTLESTITCH_HOME` win where they are set. */
export function usualFolders(): Folders {
  const { env, platform } = process;
  const states: Partial<Record<NodeJS.Platform, string>> = {
    win32: join(env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), 'Kettlestitch'),
    darwin: join(homedir(), 'Library', 'Application Support', 'Kettlestitch'),
  };
  const state = states[platform] ?? join(env.XDG_STATE_HOME ?? join(homedir(), '.local', 'state'), 'kettlestitch');
  return { state: env.KETTLESTITCH_STATE ?? state, home: env.KETTLESTITCH_HOME ?? homedir() };
}

/** A desk with no workshop open yet. Which folder is opened is remembered for the next start. */
export function makeDesk(shell: Desk['shell'], folders: Folders): Desk {
  mkdirSync(folders.state, { recursive: true });
  const log = openLog(join(folders.state, 'kettlestitch.log'));
  const remembered = join(folders.state, 'last-workshop');
  let workshop: Desk['place']['workshop'] = null;
  const place: Desk['place'] = {
    notOpened: null,
    get workshop() {
      return workshop;
    },
    set workshop(opened) {
      workshop = opened;
      if (opened !== null) writeFileSync(remembered, opened.folder);
    },
  };
  return {
    shell,
    remote: false,
    sharing: makeSharing(folders.state, Date.now),
    version: packageJson.version,
    place,
    now: Date.now,
    log,
    suggestedFolder: join(folders.home, 'Kettlestitch'),
    demoFolder: join(folders.home, 'Kettlestitch demo'),
  };
}

/**
 * Opens what the flags ask for: the demo, a folder (made into a workshop when there is none in it), or the one open last.
 * Null when that went well, else the sentence that says why not; the page then offers the choice.
 */
export async function openFirst(desk: Desk, folders: Folders, options: StartOptions): Promise<string | null> {
  const { workshop } = createRouterClient(router, { context: desk });
  const remembered = join(folders.state, 'last-workshop');
  const last = existsSync(remembered) ? readFileSync(remembered, 'utf8') : '';
  const folder = options.workshop ?? last;
  try {
    if (options.demo) {
      await workshop.openDemo();
    } else if (folder !== '' && existsSync(join(folder, 'workshop.sqlite'))) {
      await workshop.open({ folder });
    } else if (options.workshop !== null) {
      await workshop.create({ folder, name: basename(folder) });
    } else if (last !== '') {
      const sentence = `The workshop opened last was in ${last} and is not there now. Is a stick or a disk not connected?`;
      desk.place.notOpened = { folder: last, sentence };
    }
    return null;
  } catch (error) {
    assert(error instanceof Error, 'a question fails with an error');
    if (!options.demo) desk.place.notOpened = { folder, sentence: error.message };
    return error.message;
  }
}

/** A promise nobody waited for that failed is a defect to write down, not a reason to end the program under the person's hands. */
export function logStrays(desk: Desk): void {
  process.on('unhandledRejection', (error) => desk.log.defect(error, 'nobody waited for this'));
}

/** Closes the open workshop, so that its folder can be copied or opened elsewhere. */
export function closeDesk(desk: Desk): void {
  void desk.sharing.stop();
  desk.place.workshop?.close();
  desk.place.workshop = null;
}
