import { TablesScreen } from '../_screens/tables/TablesScreen.tsx';

export default function TablesPage() {
  return <TablesScreen />;
}
