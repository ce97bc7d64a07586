/** A page that is nothing but the page's client, so that a test can ask through it. */
import { client, readTrouble } from '../../../../renderer/app/client.ts';

Object.assign(window, { probe: { client, readTrouble } });
