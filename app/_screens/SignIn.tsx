'use client';
import { type FormEvent, useEffect, useState } from 'react';
import { type Problem, problem } from '../../lib/base/index.ts';
import { Unreachable } from '../../lib/store/device/index.ts';
import { oweSignOut, rememberMe } from '../_client/device.ts';
import { call, Refused } from '../_client/remote.ts';
import { Logo } from '../_ui/Frame.tsx';
import { Button, Caution, Field, ProblemNote } from '../_ui/kit.tsx';
import classes from './SignIn.module.css';

/** Where to go after signing in: only paths of this site. */
function target(): string {
  const then = new URLSearchParams(window.location.search).get('then') ?? '/';
  // The address is read as the browser reads it; only a place on this server is gone to.
  const url = new URL(then, window.location.origin);
  return url.origin === window.location.origin ? url.pathname + url.search : '/';
}

/** Turns what a call threw into a problem for the person; what is no answer of the server is a bug and goes on. */
export function problemOf(error: unknown): Problem {
  if (error instanceof Refused) return error.problem;
  if (error instanceof Unreachable) {
    return problem('no-connection', '', '', error.message, 'Check the connection and try again.');
  }
  throw error;
}

export function SignIn() {
  const [email, setEmail] = useState('');
  const [password, setPassword] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    call<{ firstRun: boolean }>('GET', '/api/v1/installation').then(
      ({ firstRun }) => {
        if (firstRun) window.location.replace('/first-run');
      },
      (error) => setWrong(problemOf(error)),
    );
  }, []);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    const response = await fetch('/api/auth/sign-in/email', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ email, password }),
    }).catch(() => null);
    if (response?.ok === true) {
      rememberMe(null);
      oweSignOut(false);
      window.location.assign(target());
      return;
    }
    setBusy(false);
    setWrong(signInProblem(response?.status ?? 0, email));
  };
  return (
    <main className={classes.page}>
      <div className={classes.head}>
        <Logo />
        <h1>Rimbook</h1>
      </div>
      <p className={classes.claim}>A page per wheel, a verdict per component, evidence behind each word.</p>
      <form onSubmit={submit} className={classes.form}>
        <Field label="E-mail">
          <input
            type="email"
            autoComplete="username"
            required
            value={email}
            onChange={(event) => setEmail(event.target.value)}
          />
        </Field>
        <Field label="Password">
          <input
            type="password"
            autoComplete="current-password"
            required
            value={password}
            onChange={(event) => setPassword(event.target.value)}
          />
        </Field>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button type="submit" tone="act" block disabled={busy}>
          Sign in
        </Button>
      </form>
      <Caution>
        A rim with air behind it is a pressure vessel. This tool records and compares; the decision belongs to
        a competent person under local codes and the maker’s manual.
      </Caution>
    </main>
  );
}

function signInProblem(status: number, email: string): Problem {
  if (status === 0)
    return problem(
      'no-connection',
      '',
      '',
      'The server cannot be reached',
      'Check the connection and try again.',
    );
  if (status === 429)
    return problem('too-many', '', '', 'Too many tries from here', 'Wait a minute, then try again.');
  if (status === 401 || status === 403) {
    return problem(
      'sign-in',
      'e-mail',
      email,
      'E-mail and password do not fit together, or the account is closed',
      'Try again, or ask your administrator for a new password.',
    );
  }
  return problem(
    'sign-in',
    'e-mail',
    email,
    `The server answered ${status}`,
    'Try again; if it stays, tell the administrator.',
  );
}
