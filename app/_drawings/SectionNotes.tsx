import type { Point, Section } from '../../lib/wheel/index.ts';
import { HEIGHT_LINE_X, heightLabels, type Label, nameLabels, WIDTH_LINE_Y, widthLabel } from './labels.ts';
import classes from './SectionDrawing.module.css';
import { ABOVE_PX, type Sheet, toPx, type View } from './views.ts';

const ARROW = 7;

interface OnSheet {
  readonly section: Section;
  readonly view: View;
  readonly sheet: Sheet;
}

function Text({ label, className }: { label: Label; className: string | undefined }) {
  return (
    <text x={label.middle} y={label.baseline} textAnchor="middle" className={className}>
      {label.text}
    </text>
  );
}

/** Names of the parts with their leader lines, and of the side where the drawing is broken. */
export function Names({ section, view, sheet }: OnSheet) {
  return (
    <g>
      {nameLabels(section, view, sheet).map((label) => (
        <g key={label.text}>
          <path
            d={`M${label.middle} ${label.row === 'below' ? label.baseline - 13 : label.baseline + 4}L${label.at.join(' ')}`}
            className={classes.leader}
          />
          <circle cx={label.at[0]} cy={label.at[1]} r="2.5" className={classes.leaderEnd} />
          <Text label={label} className={classes.name} />
        </g>
      ))}
      {view.cutAt === null ? null : (
        <text
          x={view.cutAt === 'left' ? view.left + 4 : view.left + view.width - 4}
          y={view.top + 16}
          textAnchor={view.cutAt === 'left' ? 'start' : 'end'}
          className={classes.viewName}
        >
          {view.name}
        </text>
      )}
    </g>
  );
}

/** Width between the flanges and, at the gutter side, the height of the flange. */
export function Dimensions({ section, view, sheet }: OnSheet) {
  const y = view.top + WIDTH_LINE_Y;
  const startsHere = view.cutAt !== 'left';
  const endsHere = view.cutAt !== 'right';
  const from = startsHere ? toPx(view, [section.backFaceX, 0])[0] : view.left;
  const to = endsHere ? toPx(view, [section.gutterFaceX, 0])[0] : view.left + view.width;
  const foot = view.top + ABOVE_PX + 26;
  const label = widthLabel(section, view, sheet);
  const gap =
    label === null ? '' : `${label.middle - label.width / 2 - 4}M${label.middle + label.width / 2 + 4} ${y}H`;
  return (
    <g>
      {startsHere ? <path d={`M${from} ${y - 8}V${foot}`} className={classes.extension} /> : null}
      {endsHere ? <path d={`M${to} ${y - 8}V${foot}`} className={classes.extension} /> : null}
      <path d={`M${from} ${y}H${gap}${to}`} className={classes.dimension} />
      {startsHere ? <Arrow at={[from, y]} direction={[1, 0]} /> : <Zigzag x={from} y={y} />}
      {endsHere ? <Arrow at={[to, y]} direction={[-1, 0]} /> : <Zigzag x={to} y={y} />}
      {label === null ? null : <Text label={label} className={classes.figure} />}
      {endsHere ? <FlangeHeight section={section} view={view} faceX={to} /> : null}
    </g>
  );
}

function FlangeHeight({ section, view, faceX }: { section: Section; view: View; faceX: number }) {
  const [, top] = toPx(view, [0, section.flangeTopY]);
  const [, seat] = toPx(view, [0, section.seatY]);
  const x = faceX - HEIGHT_LINE_X;
  return (
    <g>
      <path d={`M${x - 6} ${top}H${faceX + 14}M${x - 6} ${seat}H${faceX}`} className={classes.extension} />
      <path d={`M${x} ${top}V${seat}`} className={classes.dimension} />
      <Arrow at={[x, top]} direction={[0, 1]} />
      <Arrow at={[x, seat]} direction={[0, -1]} />
      {heightLabels(section, view).map((label) => (
        <Text key={label.text} label={label} className={classes.figure} />
      ))}
    </g>
  );
}

function Arrow({ at: [x, y], direction: [dx, dy] }: { at: Point; direction: Point }) {
  const wing = (side: number) => `${x + dx * ARROW - dy * side} ${y + dy * ARROW + dx * side}`;
  return <path d={`M${x} ${y}L${wing(3)}L${wing(-3)}Z`} className={classes.arrow} />;
}

function Zigzag({ x, y }: { x: number; y: number }) {
  return <path d={`M${x - 5} ${y + 6}l4-12 2 12 4-12`} className={classes.dimension} />;
}

/** A bar of 100 mm at the drawing's scale. */
export function ScaleBar({ sheet }: { sheet: Sheet }) {
  const length = 100 * sheet.scale;
  const y = sheet.height - 16;
  return (
    <g>
      <path d={`M10 ${y}h${length / 2}v6h-${length / 2}z`} className={classes.scaleFull} />
      <path d={`M${10 + length / 2} ${y}h${length / 2}v6h-${length / 2}z`} className={classes.scaleEmpty} />
      <text x={18 + length} y={y + 8} className={classes.figure}>
        100 mm / 3.94 in
      </text>
    </g>
  );
}
