'use client';
import { useEffect } from 'react';

/** Registers the service worker, so that the screens open without a network. */
export function Offline() {
  useEffect(() => {
    if (process.env.NODE_ENV !== 'production' || !('serviceWorker' in navigator)) return;
    navigator.serviceWorker.register('/sw.js').catch((error: unknown) => {
      // Without it the screens need a connection to open; what is entered is kept all the same.
      console.warn('The screens will not open without a connection:', error);
    });
  }, []);
  return null;
}
