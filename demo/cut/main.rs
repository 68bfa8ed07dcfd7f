//! Cuts the problems of text files and prints what came of each, with the proof checked:
//! `cargo run --release --example cut -- [--plan] FILE.csp`. With `--plan` each plan follows, and
//! the weights that prove its bound.

mod problems;
mod shown;

use std::error::Error;
use std::fs;
use std::io::{self, Write};
use std::time::Instant;

use problems::Problem;
use sillbook::cutting::solver::{Work, check, solve};

fn main() -> Result<(), Box<dyn Error>> {
    let (options, files): (Vec<String>, Vec<String>) =
        std::env::args().skip(1).partition(|word| word.starts_with("--"));
    let plan = options.iter().any(|option| option == "--plan");
    if let Some(unknown) = options.iter().find(|option| *option != "--plan") {
        return Err(format!("{unknown} is not known; --plan is").into());
    }
    if files.is_empty() {
        return Err("name a file of cutting problems; tests/data/handbook.csp is one".into());
    }
    for file in &files {
        let text = fs::read_to_string(file).map_err(|error| format!("{file}: {error}"))?;
        for problem in problems::read(&text).map_err(|error| format!("{file}: {error}"))? {
            let text = cut(&problem, plan).map_err(|error| format!("{}: {error}", problem.name))?;
            write!(io::stdout(), "{text}")?;
        }
    }
    Ok(())
}

/// Name, bars or cost, at least, `proven` or `open`, seconds, and the best known if it is better;
/// then the plan, if it is asked for.
fn cut(problem: &Problem, plan: bool) -> Result<String, Box<dyn Error>> {
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
    let lines = if plan { shown::lines(problem, &solution)? } else { String::new() };
    Ok(format!(
        "{name:28} {unit} {cost:>8}  at least {at_least:>8}  {word:6}  {seconds:.3} s{better}\n{lines}"
    ))
}
