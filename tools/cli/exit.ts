export const EXIT_OK = 0;
export const EXIT_FAULT = 1;
export const EXIT_BAD_INPUT = 2;
