// The line under `What lives here?`, made by rule from the figures and from nothing else.
import type { FindingsView } from "../api/contract";
import type { Units } from "../units/units";
import type { Parts } from "./lake";
import { counted, fixed, inWords, sentenceCase } from "./numbers";
import { called, plantsOnRake } from "./taxon";

const kinds = (count: number): string => counted(count, "kind of plant", "kinds of plant");

/** The line under `What lives here?`. */
export function findingsAnswer(view: FindingsView, units: Units): Parts {
  const plants = plantsOnRake(view.taxa);
  const any = view.frequency_any.all;
  if (view.sites.sampled === 0) return ["No site of this survey has been sampled yet."];
  if (plants.length === 0) {
    const deep =
      view.max_plant_depth_m === null ? "" : `, down to ${units.depth(view.max_plant_depth_m)}`;
    if (any.k === 0)
      return ["The rake came up bare at all ", { figure: counted(any.n, "site") }, " sampled."];
    return [
      "Plants came up at ",
      { figure: `${fixed(any.k)} of ${fixed(any.n)} sites` },
      `${deep}. Their kinds were not named.`,
    ];
  }
  const introduced = plants.filter((taxon) => taxon.origin === "introduced");
  const first = plants[0];
  const worst = [...introduced].sort((a, b) => b.sites - a.sites)[0];
  const parts: (string | { figure: string })[] = [{ figure: sentenceCase(kinds(plants.length)) }];
  parts.push(
    introduced.length === 0
      ? ", none of them known as introduced."
      : `, ${inWords(introduced.length)} of ${plants.length === 1 ? "it" : "them"} introduced.`,
  );
  if (first && first !== worst) parts.push(` ${sentenceCase(called(first))} is the commonest`);
  if (worst) {
    const at = { figure: `${fixed(worst.sites)} of ${fixed(any.n)} sites` };
    const name = called(worst);
    if (first !== worst) parts.push(`; ${name} stands at `, at, ".");
    else parts.push(` The commonest is introduced: ${name}, at `, at, ".");
  } else parts.push(".");
  return parts;
}
