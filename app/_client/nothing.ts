/** Stands in the browser for modules of Node.js that a library names and never calls there. */
export default {};
