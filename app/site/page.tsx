import { SiteManager } from '../_screens/manage/SiteManager.tsx';

export default function SiteManagerPage() {
  return <SiteManager />;
}
