//! What nobody would write, by chance: texts, files, sheets and cutting problems, each a sound one of the
//! other tests with a few faults in it. Whatever it is, the library does not panic and comes to an end, an
//! error has words and a way out, the same again is read the same again, and nothing that was typed is read in
//! silence. Where a round knows what it typed, it is read as that.
//!
//! A file here is a target: what its inputs are made from, how they are spoilt, and what must hold. Each
//! runs so many rounds; a round is known by its number alone.
//! `FUZZ_ROUNDS=100000 cargo test --test all fuzz::` runs as many of each target instead, and
//! `FUZZ_FROM=4711` begins at that round: with `FUZZ_ROUNDS=1` it is that round again.

mod answers;
mod blinds;
mod cells;
mod cutting;
mod formats;
mod grids;
mod headings;
mod lengths;
mod packages;
mod rules;
mod silence;
mod surveys;
mod texts;
mod units;
mod whole;

use std::fmt::Debug;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use crate::support::chance::Chance;

/// How long one round may take: far more than any does, far less than for ever.
const MOST_TIME: Duration = Duration::from_secs(120);

/// Faults that are told before a target gives up.
const MOST_FAULTS: usize = 5;

/// Runs a target's rounds: `made` makes an input by chance, and `fault` says what is wrong with what comes of it.
#[track_caller]
fn hold<I: Debug>(
    rounds: u64,
    made: impl Fn(&mut Chance) -> I + Send + 'static,
    fault: impl Fn(&I) -> Option<String> + Send + 'static,
) {
    let number = |name| std::env::var(name).ok().map(|text| text.parse::<u64>().expect("a whole number"));
    let from = number("FUZZ_FROM").unwrap_or(0);
    let rounds = number("FUZZ_ROUNDS").unwrap_or(rounds);
    let (tell, told) = channel();
    // A thread of its own, so that a round without end is told and does not hold up the tests.
    thread::spawn(move || {
        for round in from..from + rounds {
            let input = made(&mut Chance::new(round));
            let found = catch_unwind(AssertUnwindSafe(|| fault(&input)));
            let fault = found.unwrap_or_else(|_| Some("panics".to_owned()));
            let fault = fault.map(|fault| format!("round {round} {fault}\nof {input:?}"));
            if tell.send(fault).is_err() {
                return;
            }
        }
    });
    let (mut faults, mut done) = (Vec::new(), 0);
    while faults.len() < MOST_FAULTS {
        match told.recv_timeout(MOST_TIME) {
            Ok(fault) => faults.extend(fault),
            Err(RecvTimeoutError::Disconnected) => break,
            Err(RecvTimeoutError::Timeout) => {
                faults.push(format!("round {} does not come to an end", from + done));
                break;
            }
        }
        done += 1;
    }
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
    assert_eq!(done, rounds, "rounds are missing");
}

#[test]
#[should_panic(expected = "round 7 panics")]
fn a_panic_is_told_with_its_round() {
    hold(10, |chance| chance.of(2), |_| None);
    let seven = Chance::new(7).below(1 << 40);
    hold(
        10,
        |chance| chance.below(1 << 40),
        move |input| {
            assert!(*input != seven);
            None
        },
    );
}
