// How long a person takes over a screen that is touched: a keystroke-level model.
//
// The model is that of Card, Moran and Newell, “The keystroke-level model for user performance time with
// interactive systems”, Communications of the ACM 23 (1980): a task takes the sum of its operators. Its
// times are given here from memory:
// - K, a key of a keyboard: 0.28 s for an average typist
// - P, pointing at something: 1.1 s
// - M, making up one's mind: 1.35 s
// - R, waiting for the machine: as long as it took in the browser
//
// Nothing here is typed on a keyboard, so K does not occur: each touch is a P, that of a key on the screen too,
// and so is each wipe that brings a control into view. An M stands before each number and before each button
// that ends something.
//
// What the model is not: it knows practised people who make no mistakes. It leaves out walking to the tank,
// taking and reading a sample, a wet glove that touches twice, and how long somebody who is new there
// reads. No person was timed.

const [P, M] = [1.1, 1.35];

// Of a phone of 740 px this much stays free above the keys on its screen; an assumption.
const ABOVE_KEYS = 440;

class Touches {
  constructor(page) {
    Object.assign(this, { page, touches: 0, thoughts: 0, waited: 0, keys: false });
  }

  /** Seconds that all of it takes. */
  get seconds() {
    return this.touches * P + this.thoughts * M + this.waited / 1000;
  }

  /** What it took, as one reads it. */
  get said() {
    return `${this.seconds.toFixed(1)} s (${this.touches} touches, ${this.thoughts} decisions, ${(this.waited / 1000).toFixed(1)} s of waiting)`;
  }

  think() {
    this.thoughts += 1;
  }

  /** Waits for what comes after a touch. */
  async wait(act) {
    const start = performance.now();
    await act();
    this.waited += performance.now() - start;
  }

  /** Wipes until a control is in view, half a screen at a time. */
  async find(selector) {
    const place = this.page.locator(selector).first();
    for (let i = 0; i < 20; i += 1) {
      const { top, bottom, height } = await place.evaluate((one) => {
        const box = one.getBoundingClientRect();
        return { top: box.top, bottom: box.bottom, height: innerHeight };
      });
      const end = this.keys ? ABOVE_KEYS : height;
      if (top >= 0 && bottom <= end) return place;
      await this.page.evaluate(
        (by) => scrollBy({ top: by, behavior: "instant" }),
        (top < 0 ? -1 : 1) * (end / 2),
      );
      this.touches += 1;
    }
    return place;
  }

  /** Touches a control. */
  async tap(selector) {
    const place = await this.find(selector);
    this.keys = await place.evaluate((one) => one.matches("input:not([type=radio], [type=range])"));
    await place.tap();
    this.touches += 1;
  }

  /** Makes up a number and types it on the screen's keys. */
  async type(selector, text) {
    this.think();
    await this.tap(selector);
    for (const key of text) await this.page.keyboard.press(key);
    this.touches += text.length;
  }

  /** Goes on with the key of the screen to the next number, and types it. */
  async goOn(text) {
    await this.page.keyboard.press("Enter");
    this.think();
    for (const key of text) await this.page.keyboard.press(key);
    this.touches += 1 + text.length;
  }

  /** Ends with the key of the screen that sends a form. */
  async enter() {
    this.think();
    await this.page.keyboard.press("Enter");
    this.touches += 1;
  }
}

module.exports = { Touches };
