/**
 * Short names, known in every module of the page, for what the server takes and answers. They are made of
 * .ci/schema.d.ts, which .ci/run writes from the server's own description; only what differs is said here.
 */

import type { components } from "./schema";

type Server = components["schemas"];

/** A mount inside an answer is the page's mount. */
type WithMount<T extends { mount: unknown }> = Omit<T, "mount"> & { mount: Mount };

/** The true worst is asked for before the rest of the detail. */
type JudgedFirst = Server["Judged"] & { spread?: undefined; improve?: undefined; wear?: undefined };

/** What each address of the server answers. */
type Answers = {
  "/scenarios": ShippedMount[];
  "/presets": Grading[];
  "/sizes": Sizes;
  "/readout": Readout;
  "/worst": JudgedFirst;
  "/compare": Comparison;
  "/verdict": Verdict;
  "/compare/travel": ComparisonOver;
  "/compare/run": RunsCompared;
  "/comparisons": Server["ComparisonEntry"][] & Server["KeptAt"];
  "/comparisons/{id}": Omit<Server["ComparisonInFull"], "comparison"> & { comparison: ComparisonDocument };
  "/comparisons/{id}/restore": Server["PutAway"];
  "/lessons": Server["LessonEntry"][] & Server["KeptAt"];
  "/lessons/{id}": Omit<Server["LessonInFull"], "lesson"> & { lesson: Lesson };
  "/lessons/{id}/restore": Server["PutAway"];
  "/shipped-lessons": Server["ShippedLesson"][];
  "/shipped-lessons/{name}": Lesson;
  "/detail": DetailAnswer;
  "/working": WorkingAnswer;
  "/assemblies": Assemblies;
  "/travel": Travelled;
  "/working/short": ShortLine[];
  "/run": Ran;
  "/run/ready": ReadyRun[];
  "/goals": GoalRead[];
  "/suggestions": Suggested;
  "/search": SearchStanding;
  "/library": LibraryEntry[] & Added;
  "/library?deleted=1": LibraryEntry[];
  "/library/said": string[];
  "/library/renew": string[];
};

/** What may be drawn in a formula's place: shapes, made of the server's MathML. */
type Drawn<T, Formula extends keyof T> = Omit<T, Formula> & {
  [each in Formula]: null extends T[each] ? Shape | null : Shape;
};

type Part = "pose" | "actuators" | "coupling" | "forces" | "budget";

/** Elements of the sketch's page that are more than an HTMLElement. */
type Elements = {
  "#sheet": SVGSVGElement;
  "#files": HTMLDialogElement;
  "#keys": HTMLDialogElement;
  "#lessons": HTMLDialogElement;
  "#lesson-file": HTMLInputElement;
  "#link-by-hand": HTMLInputElement;
  "#grid": HTMLSelectElement;
};

declare global {
  type Shape = import("../static/values/shapes.js").Shape;
  type ElementAt<Selector extends string> = Selector extends keyof Elements ? Elements[Selector] : HTMLElement;

  interface Array<T> {
    /** What is made of each of two things is two things. */
    map<U>(this: [T, T], make: (each: T, index: number, all: T[]) => U): [U, U];
  }

  type System = Server["Working"]["system"];
  type Customs = Server["Customs"];
  type Trade = Customs["trade"];
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
  /** Every kind of the server's: one it does not share with those above is one more alternative. */
  type Known = Cylinder | Rod | Pin | Slide;
  type Unshared = Exclude<Server["Mount"]["members"][number]["kind"], Known["kind"]>;
  type Further = Extract<Server["Mount"]["members"][number], { kind: Unshared; ends: unknown }>;
  type Member = Known | (Further & { joins?: undefined; at?: undefined; direction?: undefined });
  /** A member between two pinned ends. */
  type Linked = Extract<Member, { ends: [LinkEnd, LinkEnd] }>;
  type Load = Server["Load"];
  type Sensors = Server["Sensors"];
  type Allowance = Server["Allowance"];
  type Dimension = Server["Dimension"];
  type BodyOutline = Server["BodyOutline"];
  type ConstructionLine = Server["ConstructionLine"];
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
  type BudgetEnd = Server["BudgetEnd"];
  type BudgetSource = Server["BudgetSource"];
  type Dial = Server["Dial"];
  type Reach = Server["Reach"];
  /** The true worst and the verdict it decides. */
  type Judged = Server["Judged"];
  type DetailAnswer = Server["Detail"];
  /** The detail as far as it is there. */
  type Detailed = JudgedFirst | DetailAnswer;
  type WeighedBody = Server["Body"];
  type Spread = Server["Spread"];
  type SpreadEnd = Server["SpreadEnd"];
  type Improve = Server["Improve"];
  type Verified = Server["Verified"];
  type Wear = Server["Wear"];
  type WorkingAnswer = Server["Working"];
  type WorkingStep = Server["WorkingStep"];
  type WorkingRow = Server["WorkingRow"];
  type WorkingPlace = Server["WorkingPlace"];
  type ShortLine = Server["ShortLine"];

  // A mount over its travel.
  type Travelled = Server["Travelled"];
  type AtWorst = Server["AtWorst"];
  type DeadCentres = Server["DeadCentres"];
  type Beyond = Server["Beyond"];
  type Assemblies = Server["Assemblies"];
  type SearchQuestion = Omit<WithMount<Server["SearchQuestion"]>, "free"> & {
    free: ReturnType<typeof import("../static/document/free.js").freeAsked>;
  };
  type TravelLiveQuestion = WithMount<Server["TravelLiveQuestion"]>;

  // Two mounts compared.
  type Comparison = Server["Comparison"];
  /** As the page makes it and the server gives it back: with every part. */
  type LessonStep = Omit<Server["LessonStep"], "mount" | "in_inches"> & {
    mount: string | Mount;
    in_inches?: string | Mount | null;
  };
  type ShippedLesson = Server["ShippedLesson"];
  type LessonEntry = Server["LessonEntry"];
  type Lesson = Omit<Server["Lesson"], "steps"> & { steps: LessonStep[] };
  type ComparisonDocument = Omit<Required<Server["ComparisonDocument"]>, "a" | "b" | "ends" | "carry" | "run"> & {
    a: Worked;
    b: Worked;
    ends: Heights;
    carry: Required<Server["Carried"]>;
    run: RunSettings | null;
  };
  type CauseCompared = Server["CauseCompared"];
  type Compared = Server["Compared"];
  type Verdict = Server["Verdict"];
  type ComparisonOver = Server["ComparisonOver"];
  type OverVerdict = Server["OverVerdict"];
  type ComparedOver = Server["ComparedOver"];
  type CauseOver = Server["CauseOver"];
  type RunsCompared = Omit<Server["RunsCompared"], "run"> & { run: RunSettings };
  type RunVerdict = Server["RunVerdict"];
  type Flip = Server["Flip"];

  // The grading run.
  type RunSettings = Required<Server["RunSettings"]>;
  type RunLive = Server["Live"];
  type Ran = Server["Ran"];
  type RunPiece = Server["Piece"];
  type RunSummary = Server["RunSummary"];
  type EndSummary = Server["EndSummary"];
  type ReadyRun = Omit<Server["ReadyRun"], "run"> & { run: RunSettings };
  type RunOverSeeds = Server["OverSeeds"];
  type RunMean = Server["Mean"];
  type RunSummed = Server["Summed"];
  type RunCost = Server["Cost"];
  type RunBest = Server["Best"];
  type AtOwnBest = Server["AtOwnBest"];

  // The working with its formulas made into shapes.
  type DrawnLine = Drawn<Server["WorkingLine"], "formula" | "substituted">;
  type DrawnSymbol = Drawn<Server["WorkingSymbol"], "symbol">;
  type DrawnColumn = Drawn<Server["WorkingColumn"], "symbol">;
  type DrawnTable = Omit<Server["WorkingTable"], "columns"> & { columns: DrawnColumn[] };
  type DrawnStep = Drawn<Omit<WorkingStep, "lines" | "symbols" | "table">, "matrix"> & {
    lines: DrawnLine[];
    symbols: DrawnSymbol[];
    table: DrawnTable | null;
  };
  type DrawnWorking = Omit<WorkingAnswer, "steps"> & { steps: DrawnStep[] };

  // Goals, suggestions and searches.
  type GoalRead = Server["GoalRead"];
  type GoalWhat = GoalRead["what"];
  type GoalOver = GoalRead["over"];
  type Goal = { what: GoalWhat; most: number; over: GoalOver };
  type Suggestion = WithMount<Server["Suggestion"]>;
  type Suggested = Omit<Server["Suggested"], "suggestions"> & { suggestions: Suggestion[] };
  type Candidate = WithMount<Server["Candidate"]>;
  type SearchProgress = Omit<Server["Progress"], "objectives"> & { objectives: Goal[] };
  type Searched = Omit<Server["Searched"], "front" | "objectives"> & { front: Candidate[]; objectives: Goal[] };
  type SearchStanding = Omit<Server["SearchStanding"], "result" | "progress"> & {
    result: Searched | null;
    progress: SearchProgress | null;
  };

  // The live socket.
  type LiveQuestion = WithMount<Server["LiveQuestion"]>;
  type LiveAnswer = Omit<Server["LiveAnswer"], "readout"> & { readout: Readout; error?: undefined };
  type LiveRefusal = Server["LiveRefusal"] & { readout?: undefined; reach?: undefined };

  // What the server keeps and lists.
  type ErrorAnswer = Server["ErrorAnswer"];
  type Refusal = Server["ErrorBody"];
  type Fault = Server["FaultAnswer"];
  type ShippedMount = Server["ShippedMount"];
  type Grading = Server["GradingAnswer"];
  type Fit = Server["FitAnswer"];
  type Size = Server["Size"];
  type UsualPin = Server["UsualPin"];
  /** Sizes cylinders and pins are bought in, by the units they are round in. */
  type Sizes = Record<Trade, Server["Series"]>;
  type LibraryEntry = Server["LibraryEntry"];
  type KeptMount = WithMount<Server["KeptMount"]>;
  type VersionEntry = Server["VersionEntry"];
  type EarlierMount = WithMount<Server["EarlierMount"]>;
  type Added = Server["Added"];
  type Changed = WithMount<Server["ChangedAnswer"]>;
  /** What the library says of a step: its revision, and the id of a new mount; or why it is not kept. */
  type StepAnswer = (Server["Stepped"] & { id?: string; error?: undefined }) | Changed | ErrorAnswer;
  type Notice = Server["Notice"];
  /** A mount drawn small, of whole mm. */
  type Picture = Server["Picture"];
  /** What of a mount a small drawing of it shows. */
  type Pictured = {
    blade: Pick<Blade, "left" | "right">;
    members: (
      | { kind: string; id: string; ends: { at: readonly [number, number]; on?: string }[]; at?: undefined }
      | { kind: string; id: string; ends?: undefined; at: readonly [number, number]; joins?: readonly string[] }
    )[];
    /** The joints of each body but the blade, where the members do not say on what they are. */
    joined?: (readonly [number, number])[][];
    outlines?: { body: string; points: readonly (readonly [number, number])[] }[];
  };
  /** What an address answers: those with a name in them are told by their beginning. */
  type AnswerTo<Path extends string> = Path extends keyof Answers
    ? Answers[Path]
    : Path extends `/scenarios/${string}`
      ? Mount
      : Path extends `/fits/${string}`
        ? Fit[]
        : Path extends `/search/${string}`
          ? SearchStanding
          : Path extends `/library/${string}/versions/${string}`
            ? EarlierMount
            : Path extends `/library/${string}/versions`
              ? VersionEntry[]
              : Path extends `/library/${string}`
                ? KeptMount
                : never;

  type Vocabulary = Server["Vocabulary"];
  type MemberKind = Server["MemberKind"];
  type FormField = Server["Field"];
}
