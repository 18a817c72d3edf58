'use client';
import { type ReactNode, useState } from 'react';
import type { UnitPreference } from '../../lib/units/index.ts';
import { useUnits } from '../_client/units.ts';
import { useWorkplace, WithWorkplace } from '../_client/Workplace.tsx';
import classes from './Frame.module.css';

/** A screen for a signed-in person: top line, demonstration notice, content. */
export function Frame({ title, back, wide, children }: FrameProps) {
  return (
    <WithWorkplace>
      <TopLine title={title} back={back ?? null} />
      <main className={wide === true ? classes.wide : classes.main}>{children}</main>
    </WithWorkplace>
  );
}

interface FrameProps {
  readonly title: string;
  readonly back?: { readonly href: string; readonly label: string };
  readonly wide?: boolean;
  readonly children: ReactNode;
}

function sendState(workplace: ReturnType<typeof useWorkplace>): { text: string; tone: string | undefined } {
  const { connection, waiting, refused } = workplace;
  if (refused > 0) return { text: `${refused} refused`, tone: classes.bad };
  if (connection === 'signed out') return { text: `Signed out, ${waiting} here`, tone: classes.bad };
  if (connection === 'no connection') return { text: `No signal, ${waiting} here`, tone: classes.hold };
  return waiting > 0
    ? { text: `Sending ${waiting}`, tone: classes.hold }
    : { text: 'All sent', tone: classes.good };
}

function TopLine({ title, back }: { title: string; back: { href: string; label: string } | null }) {
  const workplace = useWorkplace();
  const [open, setOpen] = useState(false);
  const [units, setUnits] = useUnits();
  const { text, tone } = sendState(workplace);
  const { me, site, has } = workplace;
  const links: [string, string][] = [
    ['/', 'Start'],
    ...(has('reviewer') || has('lead') ? ([['/queue', 'Review queue']] as [string, string][]) : []),
    ['/parts', 'Parts'],
    ['/wear', 'Wear'],
    ['/where', 'Where it happens'],
    ['/tables', 'Tolerance tables'],
    ['/studies', 'Gauge studies'],
    ...(has('reviewer') || has('lead')
      ? ([['/agreement', 'Agreement between people']] as [string, string][])
      : []),
    ['/card', 'Scale card'],
    ['/outbox', 'Not sent yet'],
    ...(has('lead') ? ([['/site', 'Site, wheels, instruments']] as [string, string][]) : []),
    ...(me.person.administrator ? ([['/people', 'People']] as [string, string][]) : []),
  ];
  return (
    <header className={classes.top}>
      <div className={classes.bar}>
        {back === null ? (
          <a className={classes.mark} href="/" aria-label="Rimbook, start">
            <Logo />
          </a>
        ) : (
          <a className={classes.back} href={back.href}>
            <span className="visually-hidden">Back to {back.label}</span>
            <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
              <path d="M15 4 7 12l8 8" fill="none" stroke="currentColor" strokeWidth="2.5" />
            </svg>
          </a>
        )}
        <h1 className={classes.title}>{title}</h1>
        <a className={`${classes.send} ${tone}`} href="/outbox" aria-live="polite">
          {text}
        </a>
        <button type="button" className={classes.menu} aria-expanded={open} onClick={() => setOpen(!open)}>
          Menu
        </button>
      </div>
      {open ? (
        <nav className={classes.links} aria-label="Menu">
          {links.map(([href, label]) => (
            <a key={href} href={href}>
              {label}
            </a>
          ))}
          {me.sites.length > 1 ? (
            <label className={classes.site}>
              Site
              <select value={site.id} onChange={(event) => workplace.chooseSite(event.target.value)}>
                {me.sites.map((one) => (
                  <option key={one.id} value={one.id}>
                    {one.name}
                  </option>
                ))}
              </select>
            </label>
          ) : (
            <span className={classes.who}>{site.name}</span>
          )}
          <span className={classes.who}>
            {me.person.name}, {site.roles.join(', ')}
          </span>
          <label className={classes.site}>
            Limits and reasons in
            <select value={units} onChange={(event) => setUnits(event.target.value as UnitPreference)}>
              <option value="metric">mm</option>
              <option value="imperial">inches</option>
            </select>
          </label>
          <button type="button" onClick={() => void workplace.signOut()}>
            Sign out
          </button>
        </nav>
      ) : null}
      {workplace.siteState?.demonstration === true ? (
        <p className={classes.demonstration}>
          Demonstration: invented site, parts and limits. Not for real rims.
        </p>
      ) : null}
    </header>
  );
}

/** A rim in section: groove, ring and flange, as a sign. */
export function Logo() {
  return (
    <svg viewBox="0 0 32 32" width="32" height="32" aria-hidden="true">
      <path d="M3 24h7l3-4h9v-4h3v4h4v6H3z" fill="currentColor" />
      <path d="M10 24V9q0-4-4-4" fill="none" stroke="currentColor" strokeWidth="3" />
      <circle cx="23.5" cy="12.5" r="3" fill="currentColor" />
    </svg>
  );
}
