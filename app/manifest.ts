import type { MetadataRoute } from 'next';

/** So that a phone can keep the book on its home screen. */
export default function manifest(): MetadataRoute.Manifest {
  return {
    name: 'Rimbook',
    short_name: 'Rimbook',
    description: 'A page per wheel, a verdict per component',
    start_url: '/',
    display: 'standalone',
    background_color: '#f6f4ee',
    theme_color: '#16191c',
    icons: [{ src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' }],
  };
}
