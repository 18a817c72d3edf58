import { People } from '../_screens/manage/People.tsx';

export default function PeoplePage() {
  return <People />;
}
