import js from "@eslint/js";
import globals from "globals";

export default [
  js.configs.recommended,
  {
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      // Traps that the recommended rules leave open.
      eqeqeq: "error",
      "no-var": "error",
      "prefer-const": "error",
      "no-implicit-coercion": "error",
      "no-promise-executor-return": "error",
      "no-self-compare": "error",
      "no-unmodified-loop-condition": "error",
      "array-callback-return": "error",
      // What the formatter leaves: words and comments.
      "max-len": ["error", { code: 120 }],
      // Needless code.
      "no-useless-concat": "error",
      "no-useless-return": "error",
      "no-lonely-if": "error",
      "no-else-return": "error",
      "object-shorthand": "error",
      // What is taken out of an object only to leave it behind begins with a line.
      "no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_", caughtErrors: "none" }],
      // No markup from words: the page sets text and attributes.
      "no-eval": "error",
      "no-implied-eval": "error",
      "no-restricted-properties": [
        "error",
        ...["innerHTML", "outerHTML", "insertAdjacentHTML"].map((property) => ({ property, message: "Use paint()." })),
      ],
      "no-restricted-globals": ["error", "name", "event", "status", "length", "parent", "top", "self"],
    },
  },
  { files: ["static/**/*.js"], languageOptions: { globals: globals.browser } },
  { files: ["tests/page/**/*.js", ".ci/**/*.js"], languageOptions: { globals: globals.node } },
];
