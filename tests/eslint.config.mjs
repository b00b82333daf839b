// Only the rules that need types; format and the rest are Biome's.
import { dirname } from "node:path";
import tseslint from "typescript-eslint";

export default tseslint.config(
  { ignores: ["**/generated/**", "**/*.mjs", "**/*.d.ts"] },
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  ...tseslint.configs.recommendedTypeCheckedOnly,
  {
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: dirname(import.meta.dirname) } },
    rules: {
      "@typescript-eslint/require-await": "off",
      "@typescript-eslint/no-misused-promises": ["error", { checksVoidReturn: { attributes: false } }],
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true, allowBoolean: true }],
    },
  },
  // A test's matchers, such as "any string", stand where a value is expected; the library types them loosely.
  { files: ["tests/**"], rules: { "@typescript-eslint/no-unsafe-assignment": "off" } },
);
