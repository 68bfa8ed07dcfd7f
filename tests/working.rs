//! The last step of a number is its value.

use std::collections::BTreeSet;
use std::path::Path;

use crate::support::opening::survey_text;
use crate::support::package::Package;
use crate::support::{block, surveys};
use rust_decimal::Decimal;
use sillbook::blinds::{CutPart, HEADRAIL, Panel, TILT_ROD};
use sillbook::exchange::json as document;
use sillbook::fitting::{Blind, Sides};
use sillbook::length::{Length, Units};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::report::Report;
use sillbook::sizing::{Hung, InRecess};
use sillbook::workbook::{Limits, write};
use sillbook::worked::{Amount, Number, Step};

/// The values of a number as the blind has it: none where it has none of it, several where each has
/// a step. `None` for a number that leads to others and that no blind keeps.
fn kept(number: Number, blind: &Blind<'_>) -> Option<Vec<Amount>> {
    let (hung, fitted, size) = (&blind.sizing.hung, &blind.fitted, blind.sourced.size);
    let wall = hung.before_wall();
    let returns = match fitted.sides {
        Sides::Inside => None,
        Sides::InFront { returns, .. } => Some(returns),
    };
    let Panel { louvers, stack, .. } = fitted.panel;
    let cut = |part| fitted.parts.iter().find(|cut| cut.part == part).map(|cut| cut.length);
    let lengths = |lengths: &[Length]| lengths.iter().map(|&length| length.into()).collect();
    let length = |length: Option<Length>| length.map(Amount::from).into_iter().collect();
    let working = fitted.fixings.working;
    let force = |force: Option<Decimal>| force.map(Amount::Force).into_iter().collect();
    let share = |share: Option<Decimal>| share.map(Amount::Share).into_iter().collect();
    let word = |word: Option<&'static str>| word.map(Amount::from).into_iter().collect();
    Some(match number {
        Number::Lean | Number::DepthNeeded | Number::HeadAboveFloor => return None,
        Number::Mount => match hung {
            Hung::Inside(InRecess { rail: None, allowance: Some(_), .. }) => Vec::new(),
            _ => word(Some(hung.mount().word())),
        },
        Number::Width => length(Some(size.width)),
        Number::Drop => length(Some(size.drop)),
        Number::AimLeft => length(wall.map(|wall| wall.left.aim)),
        Number::AimRight => length(wall.map(|wall| wall.right.aim)),
        Number::AboveHead => length(wall.map(|wall| wall.down.above_for(size.drop))),
        Number::Bottom => length(wall.map(|wall| wall.down.bottom)),
        Number::Setback => length(hung.setback()),
        Number::StandsProud => length(hung.in_recess().map(|rail| rail.stands_proud)),
        Number::Reach => length(hung.reach()),
        Number::OverlapLeft => length(fitted.overlap_left()),
        Number::OverlapRight => length(fitted.overlap_right()),
        Number::BracketTopAboveHead => length(wall.and(fitted.brackets.top_above_head)),
        Number::BracketTopAboveFloor => length(fitted.brackets.top_above_floor),
        Number::Brackets => vec![fitted.brackets.count().into()],
        Number::CenterFromRail => lengths(&fitted.brackets.from_left),
        Number::CenterFromOpening => {
            lengths(fitted.brackets.from_opening_left.as_deref().unwrap_or_default())
        }
        Number::Louvers => louvers.map(|louvers| louvers.count.into()).into_iter().collect(),
        Number::LouverLength => length(louvers.map(|louvers| louvers.length)),
        Number::Stack => length(stack.map(|stack| stack.width)),
        Number::ClearOpen => length(fitted.clear_open),
        Number::EscapeClear => length(fitted.escape.and_then(|escape| escape.clear)),
        Number::Valance => length(fitted.valance),
        Number::ReturnLeft => length(returns.map(|returns| returns.left)),
        Number::ReturnRight => length(returns.map(|returns| returns.right)),
        Number::SeePast => fitted.see_past().map(Amount::from).into_iter().collect(),
        Number::ControlSide => word(fitted.control_side.map(|side| side.word())),
        Number::Wand => length(fitted.wand),
        Number::Fixings => {
            vec![fitted.fixings.count().into()]
        }
        Number::Reaction => force(working.map(|working| working.reaction)),
        Number::Pull => force(working.map(|working| working.pull)),
        Number::PulledPull => force(working.map(|working| working.pulled_pull)),
        Number::Shear => force(working.map(|working| working.shear)),
        Number::Holds => force(working.and_then(|working| working.holds).map(|[hung, _]| hung)),
        Number::HoldsPulled => force(working.and_then(|working| working.holds).map(|[_, pulled]| pulled)),
        Number::UseHung => share(working.and_then(|working| working.hung())),
        Number::UsePulled => share(working.and_then(|working| working.pulled())),
        Number::Fixing => word(fitted.fixings.most.fixing.map(|fixing| fixing.substrate.word())),
        Number::HeadrailCut => length(cut(HEADRAIL)),
        Number::TiltRodCut => length(cut(TILT_ROD)),
        Number::Weight => vec![Amount::Mass(fitted.weight)],
        Number::People => vec![fitted.people.into()],
    })
}

/// Numbers whose last steps are not what the blind has.
fn drifted(steps: &[Step<'_>], blind: &Blind<'_>) -> Vec<String> {
    let differs = |&number: &Number| {
        let worked: Vec<_> = steps.iter().filter(|step| step.of == number).map(|step| step.value).collect();
        let kept = kept(number, blind)?;
        let agrees = worked.ends_with(&kept) && worked.is_empty() == kept.is_empty();
        (!agrees).then(|| format!("{}: {worked:?}, but {kept:?}", number.name()))
    };
    Number::ALL.iter().filter_map(differs).collect()
}

#[test]
fn the_last_step_of_a_number_is_its_value() {
    let demo = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(name);
        pipeline::read(&[path], None, &Silent).unwrap()
    };
    let escape =
        survey_text("Width = 48; Height = 60; Sill height = 30; Escape = yes; Escape clear width = 24");
    let escape = surveys(&[("survey.xlsx", &escape)]);
    let inputs: [Input; 6] = [
        pipeline::understand(&escape.grids, escape.sheets, None).unwrap(),
        demo("harrier-wharf.xlsx"),
        demo("larch-terrace.xlsx"),
        block::finished(),
        block::from_stock(),
        block::cut_from_stock(),
    ];
    let mut met = BTreeSet::new();
    for input in &inputs {
        let report = block::report(input);
        for (index, blind) in report.blinds.iter().enumerate() {
            let Some(blind) = blind else { continue };
            let name = &report.survey.openings[index].who.name;
            let steps = report.working(index);
            assert_eq!(drifted(&steps, blind), [""; 0], "{name}");
            met.extend(steps.iter().map(|step| step.of));
        }
    }
    let never: Vec<_> = Number::ALL.iter().filter(|number| !met.contains(number)).collect();
    assert!(never.is_empty(), "no step leads to {never:?}");
}

#[test]
fn no_two_numbers_have_one_name() {
    let mut names: Vec<_> = Number::ALL.iter().map(|number| number.name()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), Number::ALL.len());
}

#[test]
fn a_number_that_is_not_its_last_step_is_told() {
    let input = block::plain();
    let report = block::report(&input);
    let (index, blind) =
        report.blinds.iter().enumerate().find_map(|(index, blind)| Some((index, blind.clone()?))).unwrap();
    let mut other = blind;
    let one_off = |part: &CutPart| CutPart { length: part.length + Length::from_nm(1), ..part.clone() };
    let rail = other.fitted.parts.iter().filter(|part| part.part == HEADRAIL).map(one_off);
    let others = other.fitted.parts.iter().filter(|part| part.part != HEADRAIL).cloned();
    other.fitted.parts = rail.chain(others).collect();
    let told = drifted(&report.working(index), &other);
    assert!(matches!(&told[..], [one] if one.starts_with("headrail cut: ")), "{told:?}");
}

/// The openings whose steps the sheet has, and whether it says that these are not all.
fn on_the_sheet(report: &Report<'_>, limits: Limits) -> (Vec<String>, bool) {
    let mut file = std::io::Cursor::new(Vec::new());
    write(report, limits, &mut file).unwrap();
    let sheet = Package::of(file.into_inner()).sheets.remove("Working").unwrap();
    let first_column = || sheet.cells.iter().filter(|(at, _)| at.1 == 0).map(|(_, cell)| cell.text.clone());
    let mut openings: Vec<_> = first_column().skip_while(|text| text != "Opening").skip(1).collect();
    openings.dedup();
    (openings, first_column().any(|text| text.contains("--working")))
}

#[test]
fn the_sheet_has_whom_a_person_would_ask_about_and_all_when_asked() {
    // A row of two openings is a check; the last window is as the one before it.
    let text = "[Project]
Units           | in
Floors finished | yes
[Openings]
Opening | Unit | Kind   | Quantity | Width | Height | Sill height | Recess depth | Handle | Substrate
W1      | 1    | window | 2        | 36    | 48     | 30          | 5            | 0      | wood
W2      | 2    | window |          | 42    | 48     | 30          | 5            | 0      | wood
W3      | 2    | window |          | 42    | 48     | 30          | 5            | 0      | wood
";
    let surveys = surveys(&[("survey.xlsx", text)]);
    let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let names = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect::<Vec<_>>();
    assert_eq!(on_the_sheet(&report, Limits::SPREADSHEET), (names(&["W1", "W2"]), true));
    let every = Limits { every_working: true, ..Limits::SPREADSHEET };
    assert_eq!(on_the_sheet(&report, every), (names(&["W1", "W2", "W3"]), false));

    // JSON has every opening either way.
    let mut json = Vec::new();
    document::write(&report, &mut json).unwrap();
    let json: serde_json::Value = serde_json::from_slice(&json).unwrap();
    let has_steps = |opening: &serde_json::Value| !opening["working"].as_array().unwrap().is_empty();
    assert!(json["openings"].as_array().unwrap().iter().all(has_steps));
}

/// A length that no tape shows is rounded in the words of a step, as it is elsewhere in words; programs
/// and the column of numbers have it whole.
#[test]
fn a_length_in_a_step_is_shown_to_a_hundredth_and_kept_exact() {
    // (100^2 - (99 11/16)^2) / (4 x 60) = 62.402 343 75 / 240 in = 6.604 248 mm.
    let diagonals = "Diagonal 1 = 100; Diagonal 2 = 99 11/16";
    let text = survey_text(&format!("Width = 60; Height = 80; Mount = outside; {diagonals}"));
    let surveys = surveys(&[("survey.xlsx", &text)]);
    let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let steps = report.working(0);
    let lean = steps.iter().find(|step| step.of == Number::Lean).unwrap();
    assert_eq!(lean.value, Amount::Length(Length::from_nm(6_604_248)));
    assert_eq!(lean.value.show(Units::Inches), "0.26 in");
    assert_eq!(lean.value.show(Units::Millimeters), "6.6 mm");

    let (mut json, mut file) = (Vec::new(), std::io::Cursor::new(Vec::new()));
    document::write(&report, &mut json).unwrap();
    let json: serde_json::Value = serde_json::from_slice(&json).unwrap();
    let rows = json["openings"][0]["working"].as_array().unwrap();
    let row = rows.iter().find(|row| row["of"] == lean.of.name()).unwrap();
    assert_eq!((row["value"].as_str(), row["value_mm"].as_f64()), (Some("0.26 in"), Some(6.604_248)));

    write(&report, Limits::SPREADSHEET, &mut file).unwrap();
    let package = Package::of(file.into_inner());
    let cells = &package.sheets["Working"].cells;
    let (at, _) = cells.iter().find(|(_, cell)| cell.text == lean.step).unwrap();
    let of_the_row = |column: u32| cells[&(at.0, at.1 + column)].text.as_str();
    assert_eq!(of_the_row(2), "0.26 in");
    assert!((of_the_row(3).parse::<f64>().unwrap() - 6.604_248 / 25.4).abs() < 1e-9);
}
