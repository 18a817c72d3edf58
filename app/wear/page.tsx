import { WearList } from '../_screens/wear/WearList.tsx';

export default function WearPage() {
  return <WearList />;
}
