// Numbers that are far from what they were: they are asked back, since most of them lost a digit or a sign.

import { h } from "./dom.js";

// What is so many times what it was last, or what it was so many times it. Common practice, no source.
const JUMP = { reading: 1.5, tank: 4 };

/** Whether a number of a `reading` or of a `tank` is far from the usual one, as far as that is known. */
export const isFar = (kind, number, usual) =>
  usual > 0 && (number > JUMP[kind] * usual || number * JUMP[kind] < usual);

/** Asks it back in the place for what is wrong: what it `was`, what is typed, and the button that means it. */
export function askBack(input, fault, { was, is, button }) {
  fault.replaceChildren(`${was} `, h("strong", null, `Is ${is} right?`), ` Then tap “${button}” once more.`);
  fault.classList.add("asks");
  input.setAttribute("aria-invalid", "true");
}

/** A double tap is one, and so is a key that is held: what the first one asks back is not meant by the second. */
export function onceAtATime(form) {
  form.addEventListener(
    "click",
    (event) => event.detail > 1 && event.target.matches(".main") && event.preventDefault(),
  );
  form.addEventListener(
    "keydown",
    (event) => event.key === "Enter" && event.repeat && event.preventDefault(),
  );
}
