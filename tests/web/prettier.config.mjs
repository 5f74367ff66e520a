// How scripts and styles are set.
export default { printWidth: 100 };
