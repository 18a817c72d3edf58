'use client';
import { type RefObject, useEffect, useRef, useState } from 'react';

/** Width in CSS px of the element that carries the ref; `initial` until it is laid out. */
export function useWidth<E extends HTMLElement>(initial: number): [RefObject<E | null>, number] {
  const ref = useRef<E>(null);
  const [width, setWidth] = useState(initial);
  useEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      if (element.clientWidth > 0) setWidth(element.clientWidth);
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}
