// What does not hold is counted and said.

let failures = 0;

/** Records a failure if a condition does not hold. */
function check(is, what) {
  if (is) return;
  failures += 1;
  console.log(`NOT SO: ${what}`);
}

const failed = () => failures;

module.exports = { check, failed };
