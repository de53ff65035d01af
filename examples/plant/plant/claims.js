// The questions being asked at the moment, so that none is asked twice at the same time. Not kept
// over a restart: open questions are then asked again.

const claimed = new Set();

/** Claims a job order or a batch; false if it is already claimed. */
function claim(id) {
  if (claimed.has(id)) return false;
  claimed.add(id);
  return true;
}

const release = (id) => claimed.delete(id);

module.exports = { claim, release };
