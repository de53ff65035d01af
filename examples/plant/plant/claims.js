// What is being asked about just now, so that nothing is asked twice at a time. Not kept over a
// restart: what was being asked then is asked again.

const claimed = new Set();

/** Claims a job order or a batch; false where somebody is at it already. */
function claim(id) {
  if (claimed.has(id)) return false;
  claimed.add(id);
  return true;
}

const release = (id) => claimed.delete(id);

module.exports = { claim, release };
