import { useEffect } from 'react';

/** The page behind must not scroll while the photo has the screen. */
export function useFullScreen(): void {
  useEffect(() => {
    const before = document.body.style.overflow;
    document.body.style.overflow = 'hidden';
    return () => {
      document.body.style.overflow = before;
    };
  }, []);
}
