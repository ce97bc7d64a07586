/** The browser shell on one workshop, and nothing else that would be counted: prints its address, ends when it is told to. */
import { openBrowserShell } from '../../electron/browser.ts';
import { builtPage } from '../../electron/build.ts';
import { router } from '../../electron/desk/router.ts';
import { readPageFiles } from '../../electron/page-files.ts';
import { closeDesk, makeDesk, openFirst } from '../../electron/workplace.ts';

const [workshop = '', state = ''] = process.argv.slice(2);
const folders = { state, home: state };
const desk = makeDesk('browser', folders);
const refused = await openFirst(desk, folders, { browser: true, demo: false, workshop, port: null });
if (refused !== null) throw new Error(refused);
const shell = await openBrowserShell({ context: desk, router, page: readPageFiles(builtPage) });
process.on('SIGTERM', () => {
  void shell.close().finally(() => {
    closeDesk(desk);
    process.exit(0);
  });
});
console.log(shell.newAddress());
