export {
  type InspectionReport,
  inspectionReport,
  momentWords,
  type ReportPart,
  type ReportPhoto,
  type SizeWords,
} from './inspectionReport.ts';
export { type HistoryLine, type StayLine, type WheelReport, wheelReport } from './wheelReport.ts';
