// What the program says of a run, and what a device notes of it. The names are
// those of the program's answer.

export interface Note {
  kind: string;
  body: Record<string, unknown>;
  corrects?: string;
}

export interface Act {
  after: number;
  kind: string;
  say: string;
  more?: string;
  notes?: Note[];
}

export interface Weight {
  n: number;
  says: string;
  band: string;
}

export interface Ask {
  event: string;
  text: string;
  yes?: Note;
  no: Note;
}

export interface View {
  making: string;
  seq: number;
  has: string[];
  couched: number;
  kissed: number;
  spoilt: number;
  wanted: number;
  tests: number;
  post: number;
  inPost: number;
  holds: number;
  closed: boolean;
  why?: string;
  words?: string;
  last?: Weight;
  level?: string;
  ahead: Weight[];
  acts: Act[];
  asks: Ask[];
  missed?: Ask;
  noted: { id: string; text: string; when: string }[];
  litre: number;
  volume: string;
}

// Entry is what happened, as this device keeps it. at is by the program's
// clock and is set once, before it is first sent.
export interface Entry extends Note {
  id: string;
  making: string;
  raw: number; // by this device's clock, ms
  nth: number; // order on this device
  group: string; // what was noted by one press
  at?: number;
  stored?: boolean;
  refused?: string;
  seen?: boolean; // the maker knows that it was refused
}
