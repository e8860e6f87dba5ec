/**
 * Short names, known in every module of the page, for what the server takes and answers. They are made of
 * .ci/schema.d.ts, which .ci/run writes from the server's own description; only what differs is said here.
 */

import type { components } from "./schema";

type Server = components["schemas"];

/** A mount inside an answer is the page's mount. */
type WithMount<T extends { mount: unknown }> = Omit<T, "mount"> & { mount: Mount };

type Part = "pose" | "actuators" | "coupling" | "forces" | "budget";

declare global {
  interface Array<T> {
    /** What is made of each of two things is two things. */
    map<U>(this: [T, T], make: (each: T, index: number, all: T[]) => U): [U, U];
  }

  type System = Server["Working"]["system"];
  type Quantity = Server["Field"]["measure"];
  type EndName = Server["Improve"]["end"];
  type Heights = Server["Heights"];
  /** Mm longer than drawn, by cylinder. */
  type Command = Record<string, number>;

  // The document. A member has ends, or joins two bodies at one point: each kind lacks what the others have.
  type Blade = Server["Blade"];
  type LinkEnd = Server["End"];
  type Pin = Server["Pin"] & { ends?: undefined; direction?: undefined };
  type Slide = Server["Slide"] & { ends?: undefined };
  type Rod = Server["Rod"] & { joins?: undefined; at?: undefined; direction?: undefined };
  type Cylinder = Server["Cylinder"] & { joins?: undefined; at?: undefined; direction?: undefined };
  type Member = Cylinder | Rod | Pin | Slide;
  type Load = Server["Load"];
  type Sensors = Server["Sensors"];
  type Allowance = Server["Allowance"];
  type Mount = Omit<Server["Mount"], "members"> & { members: Member[] };
  /** A mount with where its cylinders are worked to. */
  type Worked = { mount: Mount; command: Command };

  // The answers.
  type Message = Server["Message"];
  /** A readout has all of these parts where the mount is located, and none where it is not. */
  type Located = Omit<Server["Readout"], Part> & { [part in Part]: NonNullable<Server["Readout"][part]> };
  type Unlocated = Omit<Server["Readout"], Part | "dial"> & { [part in Part | "dial"]: null };
  type Readout = Located | Unlocated;
  type Standing = Server["Standing"];
  type StandingBody = Server["StandingBody"];
  type Mobility = Server["Mobility"];
  type Actuator = Server["Actuator"];
  type Coupling = Server["Coupling"];
  type JointForce = Server["JointForce"];
  type Budget = Server["Budget"];
  type BudgetSource = Server["BudgetSource"];
  type Dial = Server["Dial"];
  type Reach = Server["Reach"];
  /** The true worst is asked for first; the rest of the detail comes after it. */
  type Judged = Server["Judged"];
  type DetailAnswer = Server["Detail"];
  type WeighedBody = Server["Body"];
  type Spread = Server["Spread"];
  type Improve = Server["Improve"];
  type Verified = Server["Verified"];
  type Wear = Server["Wear"];
  type WorkingAnswer = Server["Working"];
  type WorkingStep = Server["WorkingStep"];
  type ShortLine = Server["ShortLine"];

  // The live socket.
  type LiveQuestion = WithMount<Server["LiveQuestion"]>;
  type LiveAnswer = Omit<Server["LiveAnswer"], "readout"> & { readout: Readout };
  type LiveRefusal = Server["LiveRefusal"];

  // What the server keeps and lists.
  type ErrorAnswer = Server["ErrorAnswer"];
  type Refusal = Server["ErrorBody"];
  type Fault = Server["FaultAnswer"];
  type ShippedMount = Server["ShippedMount"];
  type Grading = Server["GradingAnswer"];
  type Fit = Server["FitAnswer"];
  type LibraryEntry = Server["LibraryEntry"];
  type KeptMount = WithMount<Server["KeptMount"]>;
  type VersionEntry = Server["VersionEntry"];
  type EarlierMount = WithMount<Server["EarlierMount"]>;
  type Added = Server["Added"];
  type Changed = WithMount<Server["ChangedAnswer"]>;
  type Notice = Server["Notice"];

  type Vocabulary = Server["Vocabulary"];
  type MemberKind = Server["MemberKind"];
  type FormField = Server["Field"];
}
