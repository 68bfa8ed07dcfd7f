//! Cuts the problems of text files and prints what came of each, with the proof checked:
//! `cargo run --release --example cut -- FILE.csp`.

mod problems;

use std::error::Error;
use std::fs;
use std::io::{self, Write};
use std::time::Instant;

use problems::Problem;
use sillbook::cutting::solver::{Work, check, solve};

fn main() -> Result<(), Box<dyn Error>> {
    let files: Vec<String> = std::env::args().skip(1).collect();
    if files.is_empty() {
        return Err("name a file of cutting problems; tests/data/handbook.csp is one".into());
    }
    for file in &files {
        let text = fs::read_to_string(file).map_err(|error| format!("{file}: {error}"))?;
        for problem in problems::read(&text).map_err(|error| format!("{file}: {error}"))? {
            let line = cut(&problem).map_err(|error| format!("{}: {error}", problem.name))?;
            writeln!(io::stdout(), "{line}")?;
        }
    }
    Ok(())
}

/// Name, bars or cost, at least, `proven` or `open`, seconds, and the best known if it is better.
fn cut(problem: &Problem) -> Result<String, Box<dyn Error>> {
    let start = Instant::now();
    let solution = solve(&problem.instance, Work::FOR_A_PLAN);
    let seconds = start.elapsed().as_secs_f64();
    let cost = check(&problem.instance, &solution.cuts, &solution.certificate)?;
    let at_least = solution.certificate.cost;
    let unit = if problem.instance.stocks().iter().all(|stock| stock.cost == 1) { "bars" } else { "cost" };
    let word = if cost == at_least { "proven" } else { "open" };
    let name = &problem.name;
    let better = problem.best.filter(|best| *best < cost);
    let better = better.map_or(String::new(), |best| format!("  best known {best}"));
    Ok(format!("{name:28} {unit} {cost:>8}  at least {at_least:>8}  {word:6}  {seconds:.3} s{better}"))
}
