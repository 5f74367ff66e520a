// What the styles of the pages are judged by.
export default {
  extends: "stylelint-config-standard",
  rules: {
    // Safari on a telephone knows it only by this name.
    "property-no-vendor-prefix": [true, { ignoreProperties: ["-webkit-text-size-adjust"] }],
    // A style is read by what it is about, not by how specific its rules are.
    "no-descending-specificity": null,
    "color-named": "never",
  },
};
