// What the scripts of the pages are judged by; `npm ci` beside a copy of this file brings the rest.
import js from "@eslint/js";
import globals from "globals";

export default [
  js.configs.recommended,
  {
    files: ["**/*.js"],
    languageOptions: {
      ecmaVersion: 2022, // private fields and later are not on phones that are still in use
      sourceType: "script", // each stands in a page as it is, one after the other
      globals: globals.browser,
    },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      curly: ["error", "multi-line"],
      eqeqeq: "error",
      "id-length": ["error", { min: 2, exceptions: ["_"] }],
      "max-lines": ["error", 320],
      "max-lines-per-function": ["error", { max: 40, IIFEs: false, skipComments: true }],
      "no-implicit-globals": "off", // a later script of the page uses what an earlier one brings
      "no-redeclare": ["error", { builtinGlobals: false }],
      "no-shadow": "error",
      "no-var": "error",
      "prefer-const": "error",
      "prefer-template": "error",
      strict: ["error", "global"],
    },
  },
  {
    files: ["**/offline_worker.js"],
    languageOptions: { globals: globals.serviceworker },
  },
];
