//! What a page sees of the engine.
//!
//! The page asks for room, writes its request at the address that it is given, calls `answer` or
//! `example`, and reads what is at `written_at`, as many bytes as `written_length` says. Each call
//! returns a status as HTTP has it. No address comes in, so none is followed here.
#![expect(unsafe_code, reason = "a name that a page can call has to be kept as it is")]

use crate::answer;
use std::panic::{self, PanicHookInfo};
use std::sync::{Mutex, MutexGuard, Once, PoisonError};
use sumpwright_openapi::problem::{Problem, ProblemKind};

/// The request: its texts, one behind the other.
static REQUEST: Mutex<Vec<u8>> = Mutex::new(Vec::new());
/// The answer, or the problem; empty until there is one.
static WRITTEN: Mutex<Vec<u8>> = Mutex::new(Vec::new());

const ANSWERED: u16 = 200;

/// Makes room for a request of so many bytes, and returns its address.
#[unsafe(no_mangle)]
#[must_use]
pub(crate) extern "C" fn room(length: usize) -> usize {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| panic::set_hook(Box::new(write_down)));
    locked(&WRITTEN).clear();
    let mut request = locked(&REQUEST);
    request.clear();
    request.resize(length, 0);
    request.as_mut_ptr().expose_provenance()
}

/// Answers the request: a calculation's name and a document, of so many bytes each, and behind
/// them the form of the answer.
#[unsafe(no_mangle)]
#[must_use]
pub(crate) extern "C" fn answer(calculation: usize, document: usize) -> u32 {
    let request = std::mem::take(&mut *locked(&REQUEST));
    let (calculation, rest) = request.split_at(calculation);
    let (document, form) = rest.split_at(document);
    write(answer::answer(&text(calculation), document, &text(form)))
}

/// Writes the example of the calculation that is named in the request.
#[unsafe(no_mangle)]
#[must_use]
pub(crate) extern "C" fn example() -> u32 {
    let request = std::mem::take(&mut *locked(&REQUEST));
    write(answer::example(&text(&request)))
}

/// The address of what was written.
#[unsafe(no_mangle)]
#[must_use]
pub(crate) extern "C" fn written_at() -> usize {
    locked(&WRITTEN).as_ptr().expose_provenance()
}

/// The number of bytes written.
#[unsafe(no_mangle)]
#[must_use]
pub(crate) extern "C" fn written_length() -> usize {
    locked(&WRITTEN).len()
}

fn write(answered: Result<Vec<u8>, Problem>) -> u32 {
    let (status, body) = match answered {
        Ok(answer) => (ANSWERED, answer),
        Err(problem) => (problem.status, serde_json::to_vec(&problem).unwrap_or_default()),
    };
    *locked(&WRITTEN) = body;
    status.into()
}

/// The module ends behind this; what it leaves is the problem.
fn write_down(panic: &PanicHookInfo<'_>) {
    let said = panic.payload_as_str().unwrap_or("for no reason that it could give");
    let at = panic.location().map(|at| format!(", at {}:{}", at.file(), at.line()));
    let detail = format!(
        "The calculation failed on this device: {said}{}. Please report it.",
        at.unwrap_or_default()
    );
    write(Err(Problem::plain(ProblemKind::Internal, detail)));
}

fn text(bytes: &[u8]) -> std::borrow::Cow<'_, str> {
    String::from_utf8_lossy(bytes)
}

/// There is one thread, and it ends with the first panic.
fn locked(bytes: &Mutex<Vec<u8>>) -> MutexGuard<'_, Vec<u8>> {
    bytes.lock().unwrap_or_else(PoisonError::into_inner)
}
