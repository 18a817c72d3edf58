export {
  BandShape,
  ClockPosition,
  DefectKind,
  FindMethod,
  Mark,
  PatchShape,
  PointPx,
  Shape,
  type ShapeForm,
  SpanShape,
  SpotShape,
  TraceShape,
} from './shape.ts';
