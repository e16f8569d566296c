/**
 * Small line drawings: of what an empty place will hold, of the first steps, and of words that are easier seen than told.
 * In units of a 120 x 64 sheet, drawn in order. Own drawings.
 */
export type Pen = "ink" | "wall" | "deep" | "paper" | "clay" | "mark" | "rain" | "faint" | "thin";
type Strokes = readonly (readonly [pen: Pen, d: string])[];

const GROUND = ["ink", "M4 58H116"] as const;
const round = (x: number, y: number, r: number) => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`;
const WALL = ["wall", "M22 50V14H98V50z"] as const;
const PIN = [["clay", "M82 34c-8-9-10-12-10-17a10 10 0 0 1 20 0c0 5-2 8-10 17z"], ["paper", round(82, 17, 3)]] as const;

export const SCENES = {
  walls: [["wall", "M12 58V32L38 14L64 32V58z"], ["paper", "M32 58V40H44V58"], ["wall", "M72 58V44Q90 12 108 44V58z"], GROUND],
  wall: [WALL, ["thin", "M22 58H98M22 54V62M98 54V62M10 14V50M6 14H14M6 50H14"]],
  mark: [WALL, ["mark", "M40 26Q54 16 62 28T56 44Q42 48 36 40T40 26z"], ...PIN],
  ticket: [["paper", "M28 6H92V58H28z"], ["wall", "M36 14H56V30H36z"], ["mark", "M42 19Q50 16 51 22T46 27Q40 26 42 19z"], ["thin", "M62 17H84M62 25H78M36 40H84M36 49H66"]],
  tickets: [["paper", "M40 6H102V44H40z"], ["paper", "M20 18H82V58H20z"], ["ink", "M28 27H38V37H28z"], ["thin", "M46 29H74M46 36H66M28 48H72"]],
  board: [["paper", "M14 8H106V56H14z"], ["ink", "M45 8V56M75 8V56"], ["wall", "M20 15H39V25H20zM20 30H39V40H20zM51 15H69V25H51z"], ["ink", "M82 24L88 30L99 17"]],
  storms: [["paper", "M32 32A11 11 0 0 1 34 10A16 16 0 0 1 64 12A10 10 0 0 1 66 32z"], ["rain", "M40 38L34 52M54 38L48 52M68 38L62 52"], ["wall", "M84 58V22H106V58z"], GROUND],
  surveys: [["paper", "M30 8H78V60H30z"], ["wall", "M44 4H64V12H44z"], ["ink", "M37 22L41 26L47 18M37 36L41 40L47 32"], ["thin", "M53 23H71M53 37H71M37 50H71"], ["clay", "M92 52L98 18L106 20L100 53L94 59z"]],
  mixes: [["wall", "M28 24H76L69 58H35z"], ["deep", "M36 24Q52 10 68 24z"], ["ink", "M25 24H79M30 24Q52 -14 74 24"], ["paper", "M84 56L106 42L100 60z"], ["ink", "M104 48L114 38"]],
  lasted: [["wall", "M10 8H58V56H10z"], ["paper", "M16 15H32V31H16z"], ["deep", "M37 15H52V31H37z"], ["ink", "M68 20H108M102 14L109 20L102 26M68 42H88"], ["clay", "M86 36L98 48M98 36L86 48"]],
  papers: [["paper", "M34 4H74L88 18V60H34z"], ["ink", "M74 4V18H88"], ["wall", "M42 24H62V40H42z"], ["thin", "M68 27H80M68 36H80M42 50H80"]],
  workdays: [["paper", "M14 12H62V56H14z"], ["ink", "M14 24H62M26 6V16M50 6V16"], ["clay", "M32 34H44V44H32z"], ["paper", round(88, 20, 7)], ["wall", "M74 56V46A14 14 0 0 1 102 46V56z"]],
  buying: [["wall", "M22 58Q14 38 24 24H48Q58 38 50 58z"], ["ink", "M24 24L20 12H52L48 24M24 24Q36 30 48 24"], ["paper", "M66 58Q60 44 68 32H90Q98 44 92 58z"], ["ink", "M68 32L65 22H93L90 32M68 32Q79 37 90 32"], GROUND],
  list: [["paper", "M30 4H90V60H30z"], ["ink", "M38 12H47V21H38zM38 28H47V37H38zM38 44H47V53H38z"], ["thin", "M54 17H82M54 33H76M54 49H82"]],
  photos: [["wall", "M24 20H44L51 11H73L80 20H98V56H24z"], ["paper", round(61, 38, 13)], ["deep", round(61, 38, 6)], ["ink", "M86 28H91"]],
  answers: [["paper", "M8 8H58V34H32L22 45V34H8z"], ["wall", "M64 20H112V46H98V57L88 46H64z"], ["thin", "M17 17H48M17 25H38M73 29H103M73 37H93"]],
  people: [["paper", round(36, 20, 8)], ["wall", "M20 58V46A16 16 0 0 1 52 46V58z"], ["paper", round(84, 20, 8)], ["wall", "M68 58V46A16 16 0 0 1 100 46V58z"], ["ink", "M54 30H66M60 24V36"]],
  coats: [["deep", "M14 6H52V58H14z"], ["wall", "M52 6H74V58H52z"], ["paper", "M74 6H88V58H74z"], ["clay", "M88 6H92V58H88z"], ["thin", "M20 14L30 17M34 26L44 23M20 36L30 39M34 48L44 45M57 12L69 24M57 28L69 40M57 44L69 56"]],
  readings: [["wall", "M8 10H52V54H8z"], ["mark", "M24 28Q32 24 34 31T28 39Q21 37 24 28z"], ["wall", "M68 10H112V54H68z"], ["mark", "M80 24Q94 16 98 29T90 45Q75 43 80 24z"], ["ink", "M55 32H64M61 28L65 32L61 36"]],

  bearing: [["wall", "M14 44H74V54H14z"], ["clay", "M44 42V12M36 20L44 11L52 20"], ["paper", round(98, 32, 15)], ["ink", "M98 19L103 33L98 30L93 33zM98 8V15"]],
  views: [["wall", "M8 56V42Q28 4 48 42V56z"], ["ink", "M54 36H64M60 31L66 36L60 41"], ["wall", "M72 56V24H116V56z"], ["faint", "M84 24V56M104 24V56"], ["thin", "M19 56V34M37 56V34"]],
  depths: [["wall", "M6 14H28Q34 26 44 28T64 46Q72 46 78 28T92 14H114V60H6z"], ["faint", "M28 14H92"], ["clay", "M66 14V45M61 39L66 46L71 39"], ["rain", "M38 14V27M34 22L38 28L42 22"], ["faint", "M30 28H84"]],
  crack: [["wall", "M14 6H106V58H14z"], ["mark", "M62 6L55 20L66 32L57 44L62 58L68 58L64 45L74 32L63 20L69 6z"], ["ink", "M36 30H54M48 25L55 30L48 35M96 30H78M84 25L77 30L84 35"]],
  voids: [["deep", "M24 6H96V58H24z"], ["paper", [round(35, 18, 9), round(56, 17, 9), round(78, 18, 9), round(46, 33, 9), round(67, 33, 9), round(86, 36, 7), round(35, 48, 8), round(57, 49, 8), round(76, 51, 6)].join("")]],
  cover: [["deep", "M14 6H58V58H14z"], ["wall", "M58 6H96V18Q84 24 78 34T96 54V58H58z"], ["clay", "M60 34H77M66 29L60 34L66 39M72 29L78 34L72 39"], ["faint", "M96 18V54"], ["thin", "M20 14L30 17M34 26L44 23M20 38L30 41M38 50L48 47"]],
  dose: [["wall", "M78 58V8H100V58z"], ["rain", "M24 8L72 26M14 20L72 40M20 38L72 56"], ["clay", "M78 22H78V44H78"], ["ink", "M78 20V44"], ["thin", "M106 20V44M103 20H109M103 44H109"], GROUND],
  panel: [WALL, ["faint", "M52 22H78V42H52z"], ["paper", "M56 26H74V38H56z"]],
  censored: [["deep", "M10 14H62V26H10z"], ["mark", "M62 14H92V26H62z"], ["clay", "M87 14L97 26M97 14L87 26"], ["deep", "M10 40H76V52H10z"], ["ink", "M76 46H106M100 40L107 46L100 52"]],
  margin: [WALL, ["faint", "M34 18H84V46H34z"], ["mark", "M46 26Q62 18 72 28T62 40Q44 42 46 26z"]],
  lean: [["faint", "M44 58V6"], ["wall", "M44 58L56 8H82L94 58z"], ["clay", "M44 12H55"], GROUND],
  gate: [["wall", "M66 58V8H92V58z"], ["rain", "M34 14C24 27 22 31 22 36A12 12 0 0 0 46 36C46 31 44 27 34 14z"], ["clay", "M20 52L50 20"], GROUND],
} as const satisfies Record<string, Strokes>;

export type SceneName = keyof typeof SCENES;
