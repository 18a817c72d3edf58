/** Stands in the browser for modules that a library names and that are never called there. */
export default {};
