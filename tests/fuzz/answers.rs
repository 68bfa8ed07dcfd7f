//! Answers, in every form that is read: what is typed beside a query, and where it points.

use rust_decimal::Decimal;
use sillbook::grid::{Block, Value};
use sillbook::schema::answers::VALUE;

use super::cells::{odd_cells, put, spoil};
use super::surveys::{Job, of_messes, of_queries};
use super::units::{FORMS, in_unit};
use super::{hold, texts};
use crate::support::chance::Chance;

const ROUNDS: u64 = 30;
const ROUNDS_OF_SIZES: u64 = 60;

/// Whether answers are on a sheet of this name.
fn has_answers(name: &str) -> bool {
    ["Answers", "Queries"].contains(&name)
}

#[test]
fn any_answer_is_taken_or_asked_about() {
    let mut sound: Vec<Job> = of_messes().into_iter().chain(of_queries(&["survey", "tables"])).collect();
    let answered =
        |job: &Job| job.grids.iter().any(|grid| grid.sheets.iter().any(|sheet| has_answers(&sheet.name)));
    sound.retain(answered);
    assert!(sound.len() > 5, "only {} surveys have answers", sound.len());
    let odd = odd_cells();
    let made = move |chance: &mut Chance| {
        let mut job = sound[chance.of(sound.len())].clone();
        for grid in &mut job.grids {
            if grid.sheets.iter().any(|sheet| has_answers(&sheet.name)) {
                grid.sheets.iter_mut().filter(|sheet| has_answers(&sheet.name)).for_each(|sheet| {
                    type_answer(sheet, &odd, chance);
                });
                if chance.of(2) == 0 {
                    spoil(grid, has_answers, &odd, chance);
                }
            }
            if chance.of(6) == 0 {
                spoil(grid, |name| name == "Openings", &odd, chance);
            }
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault());
}

/// Types an answer in one of the rows, at times in a cell that is merged with others.
fn type_answer(sheet: &mut sillbook::grid::Sheet, odd: &[Value], chance: &mut Chance) {
    const ANSWERS: [&str; 16] = [
        "36",
        "36 in",
        "914.4 mm",
        "914 mm",
        "91.44cm",
        "3 ft",
        "36 x 60",
        "ok",
        "OK!",
        "yes",
        "no",
        "?",
        "wood",
        "inside",
        "none",
        "see drawing",
    ];
    let is_value = |(_, value): &&(u16, Value)| matches!(value, Value::Text(text) if VALUE.names().any(|name| *name == **text));
    let head = sheet.rows.first().and_then(|head| head.cells.iter().find(is_value));
    let Some(column) = head.map(|(column, _)| *column).filter(|_| sheet.rows.len() > 1) else { return };
    let row = 1 + chance.of(sheet.rows.len() - 1);
    let word = ANSWERS[chance.of(ANSWERS.len())];
    let value = match (chance.of(6), word.parse::<Decimal>()) {
        (0, _) => odd[chance.of(odd.len())].clone(),
        (1, _) => Value::Text(texts::spoilt(word, chance).into()),
        (2 | 3, Ok(number)) => Value::Number(number),
        _ => Value::Text(word.into()),
    };
    put(&mut sheet.rows[row], column, value);
    let at = sheet.rows[row].row;
    match chance.of(6) {
        0 if sheet.rows[row].value(column + 1).is_none() => {
            sheet.merged.push(Block { rows: (at, at), columns: (column, column + 1) });
        }
        1 => {
            // What is below is one cell with it.
            if let Some(below) = sheet.rows.get_mut(row + 1).filter(|below| below.row == at + 1) {
                below.cells.retain(|(place, _)| *place != column);
                sheet.merged.push(Block { rows: (at, at + 1), columns: (column, column) });
            }
            sheet.rows.retain(|row| !row.cells.is_empty());
        }
        _ => {}
    }
}

/// A survey without a width, and an answer that says it in a way of its own; and how wide that is.
fn sized(chance: &mut Chance) -> Job {
    let mm = ["914.4", "1524", "762", "1219.2"][chance.of(4)];
    let (unit, words) = FORMS[chance.of(FORMS.len())];
    let number = in_unit(mm, unit);
    let word = words[chance.of(words.len())];
    let space = ["", " ", "\u{a0}", "  "][chance.of(4)];
    let (opening, column) = (["W1", "w1", " W1 "][chance.of(3)], ["Width", "width", "WIDTH"][chance.of(3)]);
    // A bare number is in the unit of the survey, or in that which the column names.
    let (column, value) = match chance.of(3) {
        0 => (format!("{column} ({word})"), number.to_string()),
        1 if unit == "in" => (column.to_owned(), number.to_string()),
        _ => (column.to_owned(), format!("'{number}{space}{word}")),
    };
    Job::of(&format!(
        "[Project]\nUnits | in\n[Openings]\nOpening | Width | Height | Mount\nW1 | ? | 60 | inside\nW2 | 36 | 60 | inside\n\
         [Answers]\nQuery | Opening | Column | Value\nno width is given | '{opening} | {column} | {value}\n"
    ))
}

#[test]
fn an_answer_means_what_it_says() {
    hold(ROUNDS_OF_SIZES, sized, |job| {
        let Ok(input) = job.read() else { return Some("is refused".to_owned()) };
        let sheets = &job.grids[0].sheets;
        let answers = sheets.iter().position(|sheet| has_answers(&sheet.name)).unwrap();
        let asked = input.queries.iter().any(|query| {
            query.at.is_some_and(|at| at.row == 1 && at.column == 3 && at.sheet == sheets[answers].id)
        });
        let width = input.survey.openings[0].facts.as_deref().map(|facts| facts.width.least().value);
        let meant = ["914.4", "1524", "762", "1219.2"].map(|mm| in_unit(mm, "mm"));
        match width {
            Some(width) if meant.contains(&Decimal::new(width.nm(), 6).normalize()) => None,
            None if asked => None,
            _ => Some(format!("is read as {width:?}")),
        }
    });
}
