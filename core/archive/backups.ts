/**
 * Which copies of a workshop are kept and when another is due. Close together for yesterday, far apart for last season: the newest of each
 * hour of the last day, of each day of the last fortnight and of each week of the last quarter. How many of each: common practice, no source.
 */

export type BackupKind = 'rolling' | 'before an update' | 'before going back';
/** `takenAt` in UTC milliseconds names a copy; no two have the same. */
export type Backup = Readonly<{ takenAt: number; kind: BackupKind }>;

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const spans = [
  { lengthMs: hourMs, count: 24 },
  { lengthMs: dayMs, count: 14 },
  { lengthMs: 7 * dayMs, count: 13 },
] as const;

/** Copies made before something that cannot simply be undone stay this long, and the newest few of them for good. */
const specialMs = 90 * dayMs;
const specialKept = 5;
/** However they lie in time, the newest copies are never dropped: a clock that jumps makes all others old at once. */
const alwaysKept = 3;
/** Copies dated after now by a clock that was wrong; without a limit they would gather. */
const futureKept = 10;

/**
 * The copies to keep, in the order given. The same answer comes from what was kept; dropping what is not kept never takes the newest, nor
 * the last copy of an hour, day or week within its span.
 */
export function backupsToKeep<B extends Backup>(backups: readonly B[], now: number): readonly B[] {
  const newestFirst = backups.toSorted((one, other) => other.takenAt - one.takenAt);
  const keep = new Set<B>(newestFirst.slice(0, alwaysKept));
  for (const backup of newestFirst.filter(({ takenAt }) => takenAt > now).slice(0, futureKept)) keep.add(backup);
  const past = newestFirst.filter(({ takenAt }) => takenAt <= now);
  for (const backup of past.slice(0, alwaysKept)) keep.add(backup);
  for (const { lengthMs, count } of spans) {
    // Slots lie fixed in time, not from now: a copy that stands for its day goes on standing for it.
    const newestSlot = Math.floor(now / lengthMs);
    const taken = new Set<number>();
    for (const backup of past) {
      const slot = Math.floor(backup.takenAt / lengthMs);
      if (slot <= newestSlot - count || taken.has(slot)) continue;
      taken.add(slot);
      keep.add(backup);
    }
  }
  const special = past.filter(({ kind }) => kind !== 'rolling');
  for (const backup of special.filter(({ takenAt }, index) => index < specialKept || now - takenAt < specialMs))
    keep.add(backup);
  return backups.filter((backup) => keep.has(backup));
}

/** How long a workshop that is being changed goes without a copy. */
const backupEveryMs = hourMs;

/** True when no copy is from the last `everyMs`. Copies dated after now, by a clock that was wrong, count for nothing. */
export function isBackupDue(backups: readonly Backup[], now: number, everyMs: number = backupEveryMs): boolean {
  return !backups.some(({ takenAt }) => takenAt <= now && takenAt > now - everyMs);
}
