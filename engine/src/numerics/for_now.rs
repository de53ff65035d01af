//! What holds on this thread for as long as something is worked out, and what held before
//! afterwards, however the work ends.

use std::cell::Cell;
use std::thread::LocalKey;

/// Works something out while `place` holds `value`.
pub(crate) fn for_now<V: Copy + 'static, T>(
    place: &'static LocalKey<Cell<V>>,
    value: V,
    work: impl FnOnce() -> T,
) -> T {
    struct Before<V: Copy + 'static>(&'static LocalKey<Cell<V>>, V);
    impl<V: Copy + 'static> Drop for Before<V> {
        fn drop(&mut self) {
            self.0.set(self.1);
        }
    }
    let _before = Before(place, place.replace(value));
    work()
}

#[cfg(test)]
mod tests {
    use super::*;

    thread_local! {
        static PLACE: Cell<u8> = const { Cell::new(1) };
    }

    #[test]
    fn what_held_before_holds_again_whatever_happens() {
        let inner = || for_now(&PLACE, 3, || PLACE.get());
        assert_eq!(for_now(&PLACE, 2, || (PLACE.get(), inner(), PLACE.get())), (2, 3, 2));
        assert_eq!(PLACE.get(), 1);
        let _ = std::panic::catch_unwind(|| for_now(&PLACE, 2, || panic!("on purpose")));
        assert_eq!(PLACE.get(), 1);
    }
}
