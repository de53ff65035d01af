// Problems (RFC 9457) of the service, in terms of the order.

const { questionOf } = require("./order");

/** A refusal of the plant system itself. */
const refusal = (status, title, detail, errors) => ({
  title,
  status,
  detail,
  ...(errors ? { errors } : {}),
});

/** The problem of a request that comes while the same thing is being asked. */
const busy = (id) =>
  refusal(409, "At work", `${id} is being asked about just now. Come back when that is done.`);

/** The faults of a question as faults of its order. */
function inTermsOfTheOrder(order, problem) {
  const { origins, names } = questionOf(order);
  const errors = problem.errors ?? [{ pointer: "", detail: problem.detail ?? problem.title }];
  return errors.map(({ pointer, detail }) => ({
    ...placeInOrder(pointer, origins, names),
    detail,
    asked: pointer,
  }));
}

/** The nearest place in the order for a place in the question; missing parts are named. */
function placeInOrder(asked, origins, names) {
  const parts = asked.split("/");
  let missing;
  while (parts.length > 0) {
    const pointer = parts.join("/");
    const name = names[pointer]?.[missing];
    if (Object.hasOwn(origins, pointer)) return { pointer: origins[pointer], ...(name ? { name } : {}) };
    missing = parts.pop();
  }
  return { pointer: "" };
}

/** The problem that the sender of a rejected order gets. */
function rejection(order, faults, problem) {
  const errors = [...faults, ...(problem ? inTermsOfTheOrder(order, problem) : [])];
  const others = errors.length - 1;
  const detail = errors[0].detail + (others > 0 ? ` (and ${others} more in errors)` : "");
  const { type, title, reachable } = problem ?? {};
  return {
    ...refusal(422, "The job order is rejected", detail, errors),
    ...(problem ? { service: { type, title, ...(reachable ? { reachable } : {}) } } : {}),
  };
}

module.exports = { busy, refusal, rejection };
