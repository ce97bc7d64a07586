import { type RefObject, useEffectEvent, useLayoutEffect, useState } from 'react';

/** The element's width in whole pixels, as it changes; 0 until it stands. Who asks for it alone is not drawn again for a new height. */
export function useWidth(box: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useMeasured(box, (element) => setWidth(Math.floor(element.clientWidth)));
  return width;
}

export function useSize(box: RefObject<HTMLElement | null>): Readonly<{ width: number; height: number }> {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useMeasured(box, (element) => {
    const next = { width: Math.floor(element.clientWidth), height: Math.floor(element.clientHeight) };
    setSize((before) => (before.width === next.width && before.height === next.height ? before : next));
  });
  return size;
}

function useMeasured(box: RefObject<HTMLElement | null>, tell: (element: HTMLElement) => void): void {
  const told = useEffectEvent(tell);
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const watcher = new ResizeObserver(() => told(element));
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [box]);
}
