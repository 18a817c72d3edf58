'use client';
import { useState } from 'react';
import type { Problem } from '../../../../lib/base/index.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Button, Field, ProblemNote } from '../../../_ui/kit.tsx';

/** The password, entered again, and the signature. */
export function SignForm({
  words,
  wrong,
  busy,
  onSign,
}: {
  words: string;
  wrong: Problem | null;
  busy: boolean;
  /** Resolves to true when it is signed. */
  onSign(password: string): Promise<boolean>;
}) {
  const { me, connection } = useWorkplace();
  const [password, setPassword] = useState('');
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void onSign(password).then((signed) => signed && setPassword(''));
      }}
    >
      <input type="hidden" name="username" autoComplete="username" value={me.person.email} readOnly />
      <Field
        label="Your password, to sign"
        {...(connection === 'connected'
          ? {}
          : { hint: 'Signing takes a connection; what you wrote is kept.' })}
      >
        <input
          type="password"
          data-sign=""
          autoComplete="current-password"
          value={password}
          onChange={(event) => setPassword(event.target.value)}
        />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button type="submit" tone="act" block disabled={busy}>
        {words}
      </Button>
    </form>
  );
}
