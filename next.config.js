/** Settings of the web application; see lib/store/server/settings.ts for those read at run time. */

// Photos are shown from blob: addresses before they are sent. Konva sets styles through script,
// the framework's static pages carry inline bootstrap scripts; nothing is loaded from elsewhere.
const policyOf = (scripts) =>
  [
    "default-src 'self'",
    `script-src 'self' ${scripts}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' blob: data:",
    "connect-src 'self' blob:",
    "worker-src 'self' blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
const contentPolicy = policyOf("'unsafe-inline' 'wasm-unsafe-eval'");
// OpenCV's bindings make functions from text. They may in a worker, which has no page, and nowhere else.
const workerPolicy = policyOf("'unsafe-eval' 'wasm-unsafe-eval'");

/** @type {import('next').NextConfig} */
const config = {
  reactStrictMode: true,
  poweredByHeader: false,
  serverExternalPackages: ['better-sqlite3', 'sharp', 'libheif-js'],
  turbopack: {
    root: import.meta.dirname,
    // OpenCV's JavaScript build names modules of Node.js that it does not use in a browser. The PDF writer loads the
    // others only to turn HTML and SVG into pages, which the card is not: every device would keep them for nothing.
    resolveAlias: Object.fromEntries(
      ['fs', 'path', 'crypto', 'canvg', 'dompurify', 'html2canvas'].map((name) => [
        name,
        { browser: './app/_client/nothing.ts' },
      ]),
    ),
  },
  async headers() {
    return [
      {
        source: '/:path*',
        headers: [
          { key: 'Content-Security-Policy', value: contentPolicy },
          { key: 'X-Content-Type-Options', value: 'nosniff' },
          { key: 'Referrer-Policy', value: 'same-origin' },
          { key: 'Permissions-Policy', value: 'geolocation=(), microphone=(), camera=(self)' },
          { key: 'Cross-Origin-Opener-Policy', value: 'same-origin' },
        ],
      },
      {
        source: '/_next/static/chunks/:file(turbopack-worker-.*)',
        headers: [{ key: 'Content-Security-Policy', value: workerPolicy }],
      },
    ];
  },
};

export default config;
