'use client';
import { type FormEvent, useEffect, useState } from 'react';
import type { Problem } from '../../lib/base/index.ts';
import { call } from '../_client/remote.ts';
import { Logo } from '../_ui/Frame.tsx';
import { Button, Field, ProblemNote } from '../_ui/kit.tsx';
import classes from './SignIn.module.css';
import { problemOf } from './SignIn.tsx';

/** Makes the first administrator and the first site while the data folder holds nobody. */
export function FirstRun() {
  const [values, setValues] = useState({ name: '', email: '', password: '', siteName: '' });
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    call<{ firstRun: boolean }>('GET', '/api/v1/installation').then(
      ({ firstRun }) => {
        if (!firstRun) window.location.replace('/sign-in');
      },
      (error) => setWrong(problemOf(error)),
    );
  }, []);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    try {
      await call('POST', '/api/v1/first-run', values);
      window.location.assign('/sign-in');
    } catch (error) {
      setBusy(false);
      setWrong(problemOf(error));
    }
  };
  const field = (key: keyof typeof values, label: string, type: string, hint?: string) => (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      <input
        type={type}
        required
        autoComplete={key === 'password' ? 'new-password' : 'off'}
        value={values[key]}
        onChange={(event) => setValues({ ...values, [key]: event.target.value })}
      />
    </Field>
  );
  return (
    <main className={classes.page}>
      <div className={classes.head}>
        <Logo />
        <h1>First run</h1>
      </div>
      <p className={classes.claim}>
        The data folder is empty. Make the first administrator and the first site.
      </p>
      <form onSubmit={submit} className={classes.form}>
        {field('siteName', 'Name of the site', 'text')}
        {field('name', 'Your name', 'text')}
        {field('email', 'Your e-mail', 'email')}
        {field('password', 'Password', 'password', 'At least 12 characters, and not your e-mail.')}
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button type="submit" tone="act" block disabled={busy}>
          Make administrator and site
        </Button>
      </form>
    </main>
  );
}
