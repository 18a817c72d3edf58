/** A type that only its own maker function can make: `Brand<number, 'Mm'>` is a number known to be millimetres. */
export type Brand<T, Name extends string> = T & { readonly __brand: Name };
