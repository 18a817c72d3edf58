import { must } from '../../lib/base/index.ts';
import { type Cv, findCards } from '../../lib/imaging/vision/index.ts';
import {
  cardLayout,
  type GreyPicture,
  type PhotoScene,
  type RimScene,
  SURFACE_BY_ZONE,
} from '../../lib/photo/index.ts';
import { sectionFor, type Truth } from './truth.ts';

/** What the record would say of a picture: the card found in it, the part and the zone; null without a card. */
export function rimOf(cv: Cv, truth: Truth, picture: GreyPicture): RimScene | null {
  const [card] = findCards(cv, picture);
  if (card === undefined) return null;
  const nominalMm = must(
    cardLayout(card.layout).rulers.find(({ unit }) => unit === 'mm'),
    'ruler',
  ).length;
  const markers = card.markers.map(({ id, corners }) => ({
    id,
    corners: corners.map(([x, y]) => [x, y]) as never,
  }));
  const { widthPx, heightPx, focal35Mm, slot, zone } = truth;
  const scene: PhotoScene = {
    scale: {
      source: 'scale card',
      layout: card.layout,
      markers,
      ruler: { nominalMm, measuredMm: nominalMm },
    },
    camera: { widthPx, heightPx, focal35Mm, profile: null },
    surface: SURFACE_BY_ZONE,
    section: sectionFor(truth),
  };
  return { scene, slot, zone };
}
