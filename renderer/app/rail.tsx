/** The rooms by name, strung on one thread; the room one is in is the knot that is tied. */
import { pages, rooms } from './rooms.tsx';
import { addressOf } from './route.ts';

export function Rail({ current }: Readonly<{ current: string }>) {
  return (
    <div className="rail">
      <nav aria-label="Rooms">
        <ol>
          {rooms.map(({ key, name }, index) => (
            <li key={key} className={key === current ? 'rail-here' : undefined}>
              <a
                href={addressOf(key)}
                aria-current={key === current ? 'page' : undefined}
                aria-keyshortcuts={`Control+${index + 1}`}
              >
                <Knot tied={key === current} />
                {name}
              </a>
            </li>
          ))}
        </ol>
      </nav>
      <nav className="rail-foot" aria-label="The workshop">
        {pages.map(({ key, name }) => (
          <a key={key} href={addressOf(key)} aria-current={key === current ? 'page' : undefined}>
            {name}
          </a>
        ))}
      </nav>
    </div>
  );
}

/** Two sections' ends and the thread that passes them; tied, it loops under the stitch below. */
function Knot({ tied }: Readonly<{ tied: boolean }>) {
  return (
    <svg className="knot" viewBox="0 0 18 36" aria-hidden="true">
      {tied ? <path d="M5 0V15C5 20 9 22 12 19.5S14 13 9.5 14 5 20 5 24V36" /> : <path d="M5 0V36M5 18H9" />}
    </svg>
  );
}
