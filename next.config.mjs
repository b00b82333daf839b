/** @type {import("next").NextConfig} */
export default {
  output: "standalone",
  distDir: process.env.NEXT_DIST_DIR ?? ".next",
  outputFileTracingRoot: import.meta.dirname,
  turbopack: { root: import.meta.dirname },
  poweredByHeader: false,
  // Documents are drawn with these fonts, which no import names.
  outputFileTracingIncludes: {
    "/**": [
      "./node_modules/@fontsource/{barlow-condensed,m-plus-1-code,source-sans-3,source-serif-4}/files/*-{latin,latin-ext,greek,cyrillic}-{400-normal,500-normal,600-normal,700-italic}.woff",
    ],
  },
  // Types are checked once, by `npm test`, together with the tests' own.
  typescript: { ignoreBuildErrors: true },
  // `forbidden()` answers 403 with a page of its own.
  experimental: { authInterrupts: true },
  serverExternalPackages: [
    "better-sqlite3",
    "@prisma/adapter-better-sqlite3",
    "pg",
    "@prisma/adapter-pg",
    "pdfkit",
    "sharp",
    "mqtt",
    "nodemailer",
  ],
};
