/** Pictures of a demo as the real study gave them (see fixtures/make_pictures.py). */
import type { Picture, PictureRow } from "../src/contract";
import told from "./fixtures/pictures.json";

export const rows = told.rows as PictureRow[];
const one = told.one as unknown as Record<string, Picture>;
const both = told.both as unknown as Record<string, Picture>;

export const picture = (id: string): Picture => structuredClone(one[id]);
export const pictureOfBoth = (id: string): Picture => structuredClone(both[id]);
