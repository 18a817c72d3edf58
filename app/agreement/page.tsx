import { AgreementScreen } from '../_screens/agreement/AgreementScreen.tsx';

export default function AgreementPage() {
  return <AgreementScreen />;
}
