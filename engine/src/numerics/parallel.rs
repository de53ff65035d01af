//! Jobs on several threads, whose results come back in the order of the jobs.

use crate::numerics::cut_off;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Does `jobs` jobs on up to `threads` threads. The results do not depend on
/// how many threads there are or on which of them does what.
pub(crate) fn in_parallel<T: Send>(
    threads: usize,
    jobs: usize,
    job: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    let threads = threads.clamp(1, jobs.max(1));
    if threads == 1 {
        return (0..jobs).map(job).collect();
    }
    let next = AtomicUsize::new(0);
    let flag = cut_off::flag();
    let work = || {
        let mut done = Vec::new();
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            if number >= jobs {
                return done;
            }
            cut_off::look();
            done.push((number, job(number)));
        }
    };
    let mut done = std::thread::scope(|scope| {
        let others: Vec<_> =
            (1..threads).map(|_| scope.spawn(|| cut_off::under(flag.clone(), work))).collect();
        let mut done = work();
        for other in others {
            match other.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(number, _)| *number);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_the_order_of_the_jobs() {
        let squares: Vec<usize> = (0..100).map(|i| i * i).collect();
        for threads in [1, 2, 7, 200] {
            assert_eq!(in_parallel(threads, 100, |i| i * i), squares);
        }
        assert!(in_parallel(4, 0, |i| i).is_empty());
    }
}
