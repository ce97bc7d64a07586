/** Zips written byte by byte, as no honest packer writes them (APPNOTE.TXT 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16). */
import { crc32, deflateRawSync } from 'node:zlib';

export type RawEntry = Readonly<{
  name: string;
  data: Uint8Array | string;
  /** Unix kind and rights; a plain file where nothing is said. */
  mode?: number;
  /** What the list says in place of the truth. */
  saysBytes?: number;
  encrypted?: boolean;
  /** Points at the local header of the entry before it. */
  shares?: boolean;
}>;

export function rawZip(entries: readonly RawEntry[]): Buffer {
  const locals: Buffer[] = [];
  const central: Buffer[] = [];
  let offset = 0;
  let before = 0;
  for (const entry of entries) {
    const name = Buffer.from(entry.name);
    const data = Buffer.from(entry.data);
    const packed = deflateRawSync(data);
    const flags = 0x800 | (entry.encrypted ? 1 : 0);
    const size = entry.saysBytes ?? data.length;
    const shared = Buffer.alloc(26);
    shared.writeUInt16LE(20, 0);
    shared.writeUInt16LE(flags, 2);
    shared.writeUInt16LE(8, 4);
    shared.writeUInt32LE(crc32(data), 10);
    shared.writeUInt32LE(packed.length, 14);
    shared.writeUInt32LE(size, 18);
    shared.writeUInt16LE(name.length, 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), shared, name, packed]);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE((((entry.mode ?? 0o100644) << 16) >>> 0) % 2 ** 32, 6);
    tail.writeUInt32LE(entry.shares ? before : offset, 10);
    central.push(Buffer.concat([Buffer.from('PK\x01\x02', 'latin1'), Buffer.from([63, 3]), shared, tail, name]));
    if (!entry.shares) {
      before = offset;
      locals.push(local);
      offset += local.length;
    }
  }
  const list = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 0, 'latin1');
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(list.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...locals, list, end]);
}
