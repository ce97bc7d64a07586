/** All the page gets from the desktop: one port, once. What goes through it is the contract and nothing else. */
import { contextBridge, ipcRenderer } from 'electron';

// The preload runs in the page's process; the shell is type-checked without the page's library.
declare function postMessage(message: unknown, origin: '/', transfer: readonly unknown[]): void;

let given = false;

contextBridge.exposeInMainWorld('kettlestitch', {
  connect() {
    if (given) return;
    given = true;
    const { port1, port2 } = new MessageChannel();
    ipcRenderer.postMessage('kettlestitch:port', null, [port2 as never]);
    postMessage('kettlestitch:port', '/', [port1]);
  },
});
