/** Gives the person a text as a file. */
export function saveFile(name: string, type: string, text: string | ArrayBuffer): void {
  const address = URL.createObjectURL(
    new Blob([text], { type: typeof text === 'string' ? `${type};charset=utf-8` : type }),
  );
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}
