export {
  type InspectionReport,
  inspectionReport,
  type ReportPart,
  type ReportPhoto,
  type SizeWords,
} from './inspectionReport.ts';
