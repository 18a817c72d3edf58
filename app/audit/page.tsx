import { Audit } from '../_screens/audit/Audit.tsx';

export default function AuditPage() {
  return <Audit />;
}
