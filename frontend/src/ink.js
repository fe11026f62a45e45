/* Colours out of the page's style sheet, so that the view is light or dark with it. */
import { Color } from "three";

const NAMES = [
  "ink", "soft", "rule", "paper", "signal", "water", "data-concretion", "data-water", "data-sediment", "data-crate",
];

export function inkOf(element) {
  const style = getComputedStyle(element);
  const ink = {};
  for (const name of NAMES) {
    ink[name.replace("data-", "")] = new Color(style.getPropertyValue(`--draw-${name}`).trim() || "#808080");
  }
  ink.isDark = ink.paper.getHSL({}).l < ink.ink.getHSL({}).l;
  return ink;
}

/* A tone between two, mixed as paint is seen, not as light adds up. */
export function mixed(one, other, share) {
  const a = one.clone().convertLinearToSRGB(), b = other.clone().convertLinearToSRGB();
  return a.lerp(b, share).convertSRGBToLinear();
}
