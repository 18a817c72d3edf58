import { createRequire } from 'node:module';

/**
 * OpenCV’s module as it is. The test runner’s own import of a CommonJS module passes its members on, `then` among them,
 * and would wait for it without end.
 */
export default createRequire(import.meta.url)('@techstark/opencv-js');
