export type { DevicePhoto, OutboxItem } from './schema.ts';
export { type DeviceStore, type NewPhoto, openDeviceStore } from './store.ts';
export {
  fetchRegister,
  type PieceOutcome,
  type Remote,
  type SendOutcome,
  sendWaiting,
  Unreachable,
} from './sync.ts';
