// npm start: installs what is missing, builds when the sources changed, and serves the data folder of the settings.
import { serve } from './demo/supervise.mjs';

serve([]);
