import { Report } from '../_screens/report/Report.tsx';

export default function ReportPage() {
  return <Report />;
}
