/** What a worker thread runs: one house after another. */
export { takeOff as default } from "./one-house.js";
