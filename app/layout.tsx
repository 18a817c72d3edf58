import type { Metadata, Viewport } from 'next';
import type { ReactNode } from 'react';
import { Offline } from './_client/Offline.tsx';
import './tokens.css';

export const metadata: Metadata = {
  title: 'Rimbook',
  description: 'A page per wheel, a verdict per component',
};
export const viewport: Viewport = { width: 'device-width', initialScale: 1, viewportFit: 'cover' };

export default function Layout({ children }: { children: ReactNode }) {
  return (
    <html lang="en">
      <body>
        {children}
        <Offline />
      </body>
    </html>
  );
}
