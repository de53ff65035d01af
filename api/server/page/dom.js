// Elements, written short.

const SVG = "http://www.w3.org/2000/svg";

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value != null) element.setAttribute(name, value);
  }
  element.append(...children.flat(Infinity).filter((child) => child != null && child !== false));
  return element;
}

/** An element with its attributes (on… are listeners) and its children. */
export const h = (name, attributes, ...children) => fill(document.createElement(name), attributes, children);

/** The same in a drawing. */
export const svg = (name, attributes, ...children) =>
  fill(document.createElementNS(SVG, name), attributes, children);

/** The element with an id. */
export const by = (id) => document.getElementById(id);

/** The text of an element that only the page as one file has. */
export const within = (id) => by(id)?.textContent;

/** Whether this page is one file, which has no service. */
export const alone = () => within("engine") !== undefined;
