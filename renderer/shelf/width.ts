import { type RefObject, useLayoutEffect, useState } from 'react';

/** The element's width in whole pixels, as it changes; 0 until it stands. */
export function useWidth(box: RefObject<HTMLElement | null>): number {
  return useSize(box).width;
}

export function useSize(box: RefObject<HTMLElement | null>): Readonly<{ width: number; height: number }> {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const watcher = new ResizeObserver(() => {
      const next = { width: Math.floor(element.clientWidth), height: Math.floor(element.clientHeight) };
      setSize((before) => (before.width === next.width && before.height === next.height ? before : next));
    });
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [box]);
  return size;
}
