// npm run demo: the same as npm start, with an invented quarry in a data folder of its own, data/demo.
import { serve } from './demo/supervise.mjs';

serve(['--demo']);
