import type { FindingCause } from "./cause";
import type { CaseFacts } from "./step";

/** What to do now: the first sentence in bold, the rest below it. Own wording of common fire-safety and electrical advice. */
export interface Caution {
  readonly first: string;
  readonly more: readonly string[];
}

const stopUse: Caution = {
  first: "Stop using it, and unplug it if the plug is cool and dry.",
  more: [
    "If it smells, smokes or is too hot to touch, leave it: switch the circuit off at the panel, get out and call the emergency number.",
    "Medical or life-safety equipment: call the person who depends on it first.",
  ],
};

const local = "Local codes, the authority having jurisdiction and the maker's instructions come before anything written here.";

const byCause: Readonly<Record<FindingCause, Caution>> = {
  recall: {
    first: stopUse.first,
    more: [
      "Keep it out of use until the remedy of the notice was carried out. Do not sell it, give it away or throw it in the household waste.",
      ...stopUse.more,
    ],
  },
  over_rating: {
    first: stopUse.first,
    more: [...stopUse.more, "It draws more than its plate and the permitted deviation allow; have it looked at before it is used again."],
  },
  lamp_too_strong: {
    first: "Switch it off, let it cool, and fit a lamp within the fixture's marking.",
    more: ["A lamp that is too strong overheats the fixture and its cord. If anything is scorched, take the fixture out of use."],
  },
  repeated_trips: {
    first: "Do not reset it again and again, and never fit a larger breaker or fuse.",
    more: [
      "Unplug what tripped it, if the plug is cool and dry, and call a licensed electrician. A protective device that trips is doing its work.",
      local,
    ],
  },
  outlet_overload: {
    first: "Unplug something here, and feel the outlet and the plugs: warm is too warm.",
    more: [
      "A warm, loose or discoloured outlet is switched off at the panel and looked at by a licensed electrician. No power strip adds to what an outlet may carry.",
      local,
    ],
  },
  circuit_overload: {
    first: "Move something to another circuit, and call a licensed electrician if it keeps happening.",
    more: ["Do not reset the breaker again and again, and never fit a larger one. That it did not trip is no permission to go on.", local],
  },
  lost_neutral: {
    first: "Switch off at the main if that is safe, and call the utility and a licensed electrician now.",
    more: [
      "Lights brighter on some circuits and dimmer on others are its sign. Unplug what can be unplugged; do not switch back on to try.",
      local,
    ],
  },
  high_voltage: {
    first: "Unplug what is sensitive, and call the utility or a licensed electrician.",
    more: ["The supply is at fault, not the appliances on it.", local],
  },
  low_voltage: {
    first: "Switch motors and compressors off, and call the utility or a licensed electrician.",
    more: ["Motors overheat on low voltage. The supply is at fault, not the appliances on it.", local],
  },
  drift: {
    first: "Have it looked at: it draws more than it used to, though still below its rating.",
    more: ["Clean filters and vents, unplugged; a dragging motor or a scaled element needs a repairer."],
  },
  use_limit: {
    first: "See what ran, and whether somebody forgot to switch it off.",
    more: ["More energy than was agreed is not a danger by itself; a heater or cooking appliance left on alone is.", local],
  },
  drawing_out_of_use: {
    first: "Somebody uses it although it was taken out of use: go there, stop it, and unplug it if the plug is cool and dry.",
    more: ["Put the DO NOT USE sheet on it, or take it away, and find out who plugged it in.", ...stopUse.more],
  },
  "by hand": { first: "Make it safe first, then find out.", more: [...stopUse.more, local] },
};

const outOfUse: Caution = {
  first: "Keep it out of use.",
  more: [
    "See that it stays unplugged and marked, and that nobody puts it back before the proof is here and a second person has checked it where it is a danger.",
  ],
};

/** What to do now about a finding. */
export function cautionFor({ cause, state, hasAppliance }: Pick<CaseFacts, "cause" | "state" | "hasAppliance">): Caution {
  return state === "out_of_use" && hasAppliance ? outOfUse : byCause[cause];
}
