/** A function of an object that works its value out once for each object, for as long as that is in use. */
export function remembered<K extends object, V>(make: (key: K) => V): (key: K) => V {
  const made = new WeakMap<K, { readonly value: V }>();
  return (key) => {
    const known = made.get(key);
    if (known !== undefined) return known.value;
    const value = make(key);
    made.set(key, { value });
    return value;
  };
}
