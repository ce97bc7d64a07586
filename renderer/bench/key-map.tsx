/** The keys of the week's picture, and whether a due press rings. */
import { setRing, useRing } from '../app/ring.ts';

const keys: readonly (readonly [keys: readonly string[], words: string])[] = [
  [['←', '→'], 'the step before or after, of the same book'],
  [['↑', '↓'], 'the book above or below'],
  [['Space'], 'start, pause, go on'],
  [['Enter'], 'start; then finish, or take out of the press'],
  [['Shift ←', 'Shift →'], 'a quarter of an hour earlier or later; let Shift go to put it there, Esc to leave it'],
  [['Ctrl Shift ←', 'Ctrl Shift →'], 'the same with the whole book'],
  [['P'], 'pin to its time, or let it go free'],
  [['A'], 'set the book aside, or take it up again'],
];

export function KeyMap() {
  const ring = useRing();
  return (
    <details className="key-map">
      <summary>Keys and sound</summary>
      <dl>
        {keys.map(([names, words]) => (
          <div key={words}>
            <dt>
              {names.map((name) => (
                <kbd key={name}>{name}</kbd>
              ))}
            </dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <p className="soft">
        With a finger or the mouse: drag a bar along its lane to move a step, or the book’s title to move the whole
        book.
      </p>
      <label className="choice">
        <input type="checkbox" checked={ring} onChange={(event) => setRing(event.target.checked)} />
        Ring when something is due out of a press
      </label>
    </details>
  );
}
