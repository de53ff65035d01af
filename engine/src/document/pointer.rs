//! JSON pointers (RFC 6901), and the dotted paths of the flat form.

use std::borrow::Cow;
use std::fmt;

/// Where something stands in a document.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pointer(String);

impl Pointer {
    /// The pointer to the document as a whole.
    #[must_use]
    pub const fn root() -> Self {
        Self(String::new())
    }

    /// The pointer of a dotted path, whose steps have no dots in them.
    #[must_use]
    pub fn of_path(path: &str) -> Self {
        let mut pointer = Self::root();
        path.split('.').filter(|step| !step.is_empty()).for_each(|step| pointer.push(step));
        pointer
    }

    /// Goes one step deeper.
    pub fn push(&mut self, step: &str) {
        self.0.push('/');
        // Hardly any name has one of the two.
        if step.contains(['~', '/']) {
            self.0.push_str(&step.replace('~', "~0").replace('/', "~1"));
        } else {
            self.0.push_str(step);
        }
    }

    /// Goes one step deeper, to a place in a list.
    pub fn push_place(&mut self, place: usize) {
        self.push(&place.to_string());
    }

    /// Goes one step back.
    pub fn pop(&mut self) {
        self.0.truncate(self.0.rfind('/').unwrap_or(0));
    }

    /// The pointer one step deeper.
    #[must_use]
    pub fn join(&self, step: &str) -> Self {
        let mut deeper = self.clone();
        deeper.push(step);
        deeper
    }

    /// The steps from the document to the place.
    pub fn steps(&self) -> impl Iterator<Item = Cow<'_, str>> {
        self.0.split('/').skip(1).map(|step| {
            if step.contains('~') {
                Cow::Owned(step.replace("~1", "/").replace("~0", "~"))
            } else {
                Cow::Borrowed(step)
            }
        })
    }

    /// The same place as a dotted path.
    #[must_use]
    pub fn path(&self) -> String {
        self.steps().collect::<Vec<_>>().join(".")
    }

    /// The pointer as it is written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Pointer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<&str> for Pointer {
    fn from(written: &str) -> Self {
        Self(written.to_owned())
    }
}

impl From<String> for Pointer {
    fn from(written: String) -> Self {
        Self(written)
    }
}

impl From<Pointer> for String {
    fn from(pointer: Pointer) -> Self {
        pointer.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 6901, section 5: the pointers into its example, and the names they stand for.
    #[test]
    fn steps_are_escaped_as_the_standard_says() {
        for (name, written) in [
            ("foo", "/foo"),
            ("a/b", "/a~1b"),
            ("c%d", "/c%d"),
            ("m~n", "/m~0n"),
            (" ", "/ "),
            ("", "/"),
            ("~1", "/~01"),
        ] {
            let pointer = Pointer::root().join(name);
            assert_eq!(pointer.as_str(), written);
            assert_eq!(pointer.steps().collect::<Vec<_>>(), [name]);
        }
    }

    #[test]
    fn a_pointer_goes_back_the_way_it_went() {
        let mut pointer = Pointer::of_path("stocks.0");
        pointer.push("a/b");
        assert_eq!(pointer.path(), "stocks.0.a/b");
        pointer.pop();
        assert_eq!(pointer, Pointer::of_path("stocks.0"));
        pointer.pop();
        pointer.pop();
        pointer.pop();
        assert_eq!(pointer, Pointer::root());
    }
}
