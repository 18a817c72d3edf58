'use client';
import { Fragment, type ReactNode, useState } from 'react';
import classes from './UnrolledRim.module.css';
import { Token } from './UnrolledToken.tsx';
import { Key, Table, type Ways, Words } from './UnrolledWords.tsx';
import { type Group, layOut, type Row, type Token as TokenOf, tokensOf } from './unrolled.ts';
import { useWidth } from './useWidth.ts';

const HOURS = [12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] as const;
/** From this width on zone names stand beside their rows. */
const BESIDE_FROM_PX = 760;
const NAME_PX = 168;
const EDGE_PX = 18;
const LANE_PX = 30;

interface Measures {
  readonly beside: boolean;
  readonly unplacedPx: number;
  readonly trackPx: number;
  readonly photoPx: number;
  /** How many things may stand at one clock position before a count hides the rest. */
  readonly most: number;
}

function measuresFor(width: number): Measures {
  const beside = width >= BESIDE_FROM_PX;
  const unplacedPx = beside ? 96 : 52;
  return {
    beside,
    unplacedPx,
    trackPx: width - unplacedPx - (beside ? NAME_PX : 0),
    photoPx: beside ? 32 : 26,
    most: beside ? 4 : 3,
  };
}

function widthOf(token: TokenOf, { photoPx }: Measures): number {
  const [first] = token.items;
  if (token.items.length > 1 || first === undefined) return 32;
  if (first.what === 'photo') return photoPx;
  if (first.what !== 'reading') return first.class === null ? 28 : 42;
  return first.figure.length * 7.3 + (first.class === null ? 8 : 24);
}

/** A small picture of a photo. */
type Thumb = (photo: string, name: string) => ReactNode;

/** The flat rim as it is drawn; where the pictures come from is for the caller to say. */
export function UnrolledSheet({ groups, thumb, ...ways }: { groups: readonly Group[]; thumb: Thumb } & Ways) {
  const [ref, width] = useWidth<HTMLDivElement>(360);
  const [chosen, setChosen] = useState<TokenOf | null>(null);
  const measures = measuresFor(width);
  const choose = (token: TokenOf) => {
    const [only] = token.items;
    if (token.items.length === 1 && only?.what === 'photo' && only.photo !== null) ways.onPhoto(only.photo);
    else setChosen(token);
  };
  return (
    <section className={classes.rim} aria-label="The rim laid flat">
      <div ref={ref}>
        {groups.map((group) => (
          <Fragment key={group.slot}>
            <Head slot={group.slot} measures={measures} />
            {group.rows.map((row) => (
              <ZoneRow
                key={row.zone}
                row={row}
                measures={measures}
                chosen={chosen}
                choose={choose}
                thumb={thumb}
              />
            ))}
          </Fragment>
        ))}
      </div>
      <Key groups={groups} />
      <Words chosen={chosen} {...ways} />
      <Table groups={groups} />
    </section>
  );
}

/** Name of the part and the clock round the rim; the valve is at 12, where the rim was cut open. */
function Head({ slot, measures }: { slot: string; measures: Measures }) {
  const run = measures.trackPx - 2 * EDGE_PX;
  return (
    <div className={measures.beside ? classes.headBeside : classes.head}>
      <h2>{slot}</h2>
      <div className={classes.unplacedHead} style={{ width: measures.unplacedPx }}>
        no clock
      </div>
      <div className={classes.clock} style={{ width: measures.trackPx }} aria-hidden="true">
        {HOURS.map((hour, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: 12 stands at both ends
          <span key={index} style={{ left: EDGE_PX + (run * index) / 12 }}>
            {hour === 12 ? <b>12</b> : hour}
          </span>
        ))}
      </div>
    </div>
  );
}

function ZoneRow({
  row,
  measures,
  chosen,
  choose,
  thumb,
}: {
  row: Row;
  measures: Measures;
  chosen: TokenOf | null;
  choose(token: TokenOf): void;
  thumb: Thumb;
}) {
  const { unplacedPx, trackPx, beside } = measures;
  const tokens = tokensOf(row.items, measures.most);
  const { placed, lanes } = layOut(tokens, trackPx, EDGE_PX, (token) => widthOf(token, measures));
  const unplaced = tokens.filter(({ clock }) => clock === null);
  const lanePx = LANE_PX + (beside ? 2 : 0);
  const height = Math.max(1, lanes, unplaced.length) * lanePx;
  const run = trackPx - 2 * EDGE_PX;
  const common = { photoPx: measures.photoPx, choose, thumb };
  return (
    <div className={beside ? classes.rowBeside : classes.row}>
      <div className={classes.name} style={beside ? { width: NAME_PX } : undefined}>
        <span>{row.zone}</span> <small>{row.look ?? (row.items.length === 0 ? 'not looked at' : '')}</small>
      </div>
      {row.items.length === 0 && !beside ? null : (
        <div className={classes.lane} style={{ minHeight: height }}>
          <div className={classes.unplaced} style={{ width: unplacedPx }}>
            {unplaced.map((token) => (
              <Token key={token.key} token={token} lit={chosen === token} {...common} />
            ))}
          </div>
          <div className={classes.track} style={{ width: trackPx }}>
            {HOURS.map((hour, index) => (
              <i
                // biome-ignore lint/suspicious/noArrayIndexKey: 12 stands at both ends
                key={index}
                className={`${hour % 3 === 0 ? classes.quarter : ''} ${row.look === null ? '' : classes.looked}`}
                style={{ left: EDGE_PX + (run * index) / 12 }}
              />
            ))}
            {placed.map(({ token, middle, lane, again }) => (
              <div
                key={`${token.key}${again ? ' again' : ''}`}
                className={classes.place}
                style={{ left: middle, top: lane * lanePx }}
              >
                <Token token={token} lit={chosen?.key === token.key} again={again} {...common} />
              </div>
            ))}
          </div>
        </div>
      )}
    </div>
  );
}
