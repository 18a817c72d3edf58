import { describe, expect, it } from 'vitest';
import { problem, shown } from '../../lib/base/index.ts';

describe('the text of a value', () => {
  it('is its JSON, at most 80 characters', () => {
    expect(shown({ a: [1, null] })).toBe('{"a":[1,null]}');
    expect(shown(undefined)).toBe('nothing');
    expect(shown(10n)).toBe('10');
    expect(shown('x'.repeat(100))).toHaveLength(80);
  });

  it('can be made of anything', () => {
    const deep: unknown = JSON.parse(`${'['.repeat(100_000)}${']'.repeat(100_000)}`);
    const circular: Record<string, unknown> = {};
    circular.self = circular;
    const hostile = {
      toJSON: () => {
        throw new Error('no');
      },
      toString: () => {
        throw new Error('no');
      },
    };
    for (const value of [deep, circular, hostile]) expect(shown(value)).toBe('a value that cannot be shown');
    expect(shown(Symbol('s'))).toBe('Symbol(s)');
    expect(problem('code', 'field', deep, 'm', 'w').value).toBe('a value that cannot be shown');
  });
});
