//! An earlier fit-out whose sheets were typed over anywhere, taken up with the survey that it is of.

use sillbook::grid::{self, Grid, Value};
use sillbook::place::Sheets;
use sillbook::schema::blinds::{BLINDS, TYPED};
use sillbook::schema::{Column, Kind};

use super::cells::{odd_cells, put, spoil};
use super::surveys::Job;
use super::{hold, silence, texts};
use crate::stories::{run, type_in};
use crate::support::chance::Chance;
use crate::support::files::Folder;

const ROUNDS: u64 = 10;

/// What is typed before anything is spoilt.
const TYPED_BEFORE: &str = "D1 | State | ordered
D1 | Ordered on | 2026-03-02
W2 | State | fitted
line 1 | Note | third box
";

#[test]
fn any_earlier_fit_out_is_taken_up_or_refused() {
    let text = include_str!("rules.txt");
    let folder = Folder::new();
    let file = folder.path().join("fit-out.xlsx");
    run(text, None, &file).unwrap();
    let mut earlier = grid::read_earlier(&file, &mut Sheets::default(), &sillbook::earlier::is_read).unwrap();
    type_in(&mut earlier, TYPED_BEFORE);
    let sound = Job { earlier: Some(earlier), ..Job::of(text) };
    assert_eq!(sound.fault_or_refusal(), None);
    let odd = odd_cells();
    let made = move |chance: &mut Chance| {
        let mut job = sound.clone();
        if let Some(earlier) = &mut job.earlier {
            // Of its sheets people write on two.
            for _ in 0..1 + chance.of(4) {
                type_over(earlier, &odd, chance);
            }
            let all = chance.of(3) == 0;
            if chance.of(2) == 0 {
                spoil(earlier, |name| all || ["Blinds", "Cost summary"].contains(&name), &odd, chance);
            }
        }
        if chance.of(3) == 0 {
            spoil(&mut job.grids[0], |name| name == "Openings", &odd, chance);
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault().or_else(|| job.forgotten()));
}

impl Job {
    /// What is typed in the earlier fit-out and was not taken up.
    fn forgotten(&self) -> Option<String> {
        let input = self.read().ok()?;
        let (_, earlier, sheets) = self.entered();
        let found =
            earlier?.sheets.iter().find_map(|sheet| silence::forgotten(sheet, input.earlier.as_ref()?))?;
        Some(format!("forgets what is typed at {}", sheets.show(found)))
    }
}

/// Types over a cell of a row of `Blinds`, whichever its column, what may stand in it or what may not.
fn type_over(earlier: &mut Grid, odd: &[Value], chance: &mut Chance) {
    let Some(sheet) = earlier.sheets.iter_mut().find(|sheet| sheet.name == BLINDS.sheet) else { return };
    let is_head = |row: &grid::Row| row.cells.iter().any(|(_, value)| is_text(value, "Line"));
    let Some(head) = sheet.rows.iter().position(is_head).filter(|head| head + 1 < sheet.rows.len()) else {
        return;
    };
    // What people type in is typed over more often than what is printed.
    let typed = TYPED[chance.of(TYPED.len())].name;
    let cells = &sheet.rows[head].cells;
    let own = cells.iter().find(|(_, value)| is_text(value, typed)).filter(|_| chance.of(2) == 0);
    let (place, heading) = own.unwrap_or_else(|| &cells[chance.of(cells.len())]).clone();
    let named = |column: &&&Column| matches!(&heading, Value::Text(text) if text.starts_with(column.name));
    // Of two names that begin alike the longer one is meant.
    let column = BLINDS.columns.iter().filter(named).max_by_key(|column| column.name.len());
    let row = head + 1 + chance.of(sheet.rows.len() - head - 1);
    let value = match (column.map(|column| column.kind), chance.of(4)) {
        (_, 0) | (None, _) => odd[chance.of(odd.len())].clone(),
        (Some(Kind::Choice(words)), tail) => {
            let word = words.own[chance.of(words.own.len())];
            let word = if tail == 1 { texts::spoilt(word, chance) } else { word.to_owned() };
            Value::Text(word.into())
        }
        (Some(Kind::Length { .. } | Kind::Whole { .. } | Kind::Number { .. } | Kind::Money), _) => {
            Value::Number([1, 2, 3, 12, 40, 1000][chance.of(6)].into())
        }
        (Some(Kind::Date), _) => Value::Date("2026-03-09".into()),
        (Some(_), _) => {
            Value::Text(["W1", "D1", "1 of 1", "white", "2, 1 of 1", "store", "x"][chance.of(7)].into())
        }
    };
    put(&mut sheet.rows[row], place, value);
}

fn is_text(value: &Value, text: &str) -> bool {
    matches!(value, Value::Text(found) if **found == *text)
}
