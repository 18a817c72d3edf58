import { WheelBook } from '../_screens/wheel/WheelBook.tsx';

export default function WheelBookPage() {
  return <WheelBook />;
}
