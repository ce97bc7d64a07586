/**
 * Who may do what, as one short list: what the page may load, where a window may go, which permissions it has (none), and the keys
 * that let a browser in. Both shells take their rules from here.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** The desktop page's own address; nothing else is ever shown in the window. */
export const pageScheme = 'kettlestitch';
export const pageOrigin = `${pageScheme}://workshop`;

/**
 * Headers that go with every file of the page. `connect` is the page's only way out: nowhere in the desktop (it has its port),
 * to its own server in a browser.
 */
export function pageHeaders(connect: 'nowhere' | 'own server'): Readonly<Record<string, string>> {
  const policy = [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "font-src 'self'",
    "img-src 'self' data: blob:",
    "worker-src 'self'",
    `connect-src ${connect === 'nowhere' ? "'none'" : "'self'"}`,
    "form-action 'none'",
    "base-uri 'none'",
    "object-src 'none'",
    "frame-src 'none'",
    "frame-ancestors 'none'",
  ];
  return {
    'content-security-policy': policy.join('; '),
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'referrer-policy': 'no-referrer',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
    'permissions-policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), payment=()',
  };
}

/** The desktop window may only ever be at the page's own origin. */
export function mayNavigate(address: string): boolean {
  const url = URL.parse(address);
  return url !== null && url.protocol === `${pageScheme}:` && url.host === 'workshop' && url.username === '';
}

/** Addresses the person may be asked about opening in their own browser: plain https, no hidden user name. */
export function mayAskToOpen(address: string): boolean {
  const url = URL.parse(address);
  return url !== null && url.protocol === 'https:' && url.username === '' && url.password === '';
}

/** One-time keys and the sessions they are exchanged for. Only digests are kept. */
export type Keys = Readonly<{
  /** A new key; any earlier unused one dies. */
  issue(): string;
  /** The session a key opens, once; null for a wrong or used key. */
  exchange(key: string): string | null;
  knows(session: string): boolean;
}>;

/** Common practice, no source: more tries than a person mistypes, far fewer than guessing 256 bits would need. */
const triesPerKey = 20;

export function makeKeys(): Keys {
  let waiting: Buffer | null = null;
  let tries = 0;
  const sessions: Buffer[] = [];
  return {
    issue() {
      const key = secret();
      waiting = digest(key);
      tries = 0;
      return key;
    },
    exchange(key) {
      if (waiting === null) return null;
      tries += 1;
      if (!sameDigest(digest(key), waiting)) {
        if (tries >= triesPerKey) waiting = null;
        return null;
      }
      waiting = null;
      const session = secret();
      sessions.push(digest(session));
      return session;
    },
    knows(session) {
      const asked = digest(session);
      return sessions.some((known) => sameDigest(known, asked));
    },
  };
}

function secret(): string {
  return randomBytes(32).toString('base64url');
}

export function digest(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}

/** Compares without telling by its time how much was right. */
export function sameDigest(one: Buffer, other: Buffer): boolean {
  return one.length === other.length && timingSafeEqual(one, other);
}

export type Limiter = Readonly<{ allows(who: string): boolean }>;

/**
 * Lets each asker ask `burst` times at once and `perSecond` times a second after that. Those who have been quiet for as long as it takes
 * to be owed a full burst again are forgotten, so that a crowd of addresses does not fill the memory.
 */
export function makeLimiter(
  { perSecond, burst }: Readonly<{ perSecond: number; burst: number }>,
  now: () => number,
): Limiter {
  const askers = new Map<string, { left: number; at: number }>();
  return {
    allows(who) {
      const at = now();
      const known = askers.get(who) ?? { left: burst, at };
      const left = Math.min(burst, known.left + ((at - known.at) / 1000) * perSecond);
      if (askers.size > 1000) {
        for (const [other, seen] of askers) if (((at - seen.at) / 1000) * perSecond >= burst) askers.delete(other);
      }
      askers.set(who, { left: Math.max(0, left - 1), at });
      return left >= 1;
    },
  };
}
