//! One opening in, one blind out: the door through which a row of a survey is sized and fitted,
//! and what is asked about it on the way.

use rust_decimal::Decimal;
use sillbook::angle::Angle;
use sillbook::blinds::Ware;
use sillbook::fitting::{self, Blind};
use sillbook::frozen::Frozen;
use sillbook::length::{Length, Units};
use sillbook::rounding::half_away;
use sillbook::rules::columns::project::PROJECT;
use sillbook::rules::{self, Rules, SmallPart};
use sillbook::sourcing::{Sourced, Supply};
use sillbook::{sizing, survey};

/// A row of a survey, `Heading = cell; …`, and what must come out of it, `name = value; …`.
/// Headings of `Project` go there. Without `Units` the survey is in inches.
pub struct Case(pub &'static str, pub &'static str);

/// Holds a case to its expectations.
pub fn check(Case(row, expected): Case) {
    let text = survey_text(row);
    let super::Surveys { grids, sheets } = super::surveys(&[("survey.xlsx", &text)]);
    let layouts = survey::lay_out(&grids).unwrap();
    let bare = survey::settle_units(&layouts, &sheets, None).unwrap();
    let rules = rules::build(&grids, bare.unit).unwrap().value;
    let survey = survey::read(&layouts, &sheets, bare).unwrap().value;
    let mut queries = Vec::new();
    let sizings = sizing::size_openings(&survey, &Frozen::default(), &rules).into_value(&mut queries);
    let made = |sizing: &sizing::Sizing<'_>| Sourced {
        size: sizing.window.preferred(),
        supply: Supply::Made,
        arrives: None,
        lead_days: None,
        passed_over: Vec::new(),
    };
    let sourced = sizings.iter().map(|sizing| sizing.as_ref().map(made)).collect();
    let blinds =
        fitting::fit_openings(&survey, sizings, sourced, &Frozen::default(), &rules).into_value(&mut queries);
    let blind = blinds[0].as_ref();
    let asked: Vec<String> = queries
        .iter()
        .map(|query| format!("{}: {} ({})", query.severity, query.message, query.detail))
        .collect();
    let asks = |words: &str| asked.iter().any(|query| query.contains(words));
    for (name, value) in pairs(expected) {
        match name {
            "held" => assert!(blind.is_none(), "not held: {row}"),
            "asks" => assert!(asks(value), "{value} is not asked of: {row}, but {asked:#?}"),
            "does not ask" => assert!(!asks(value), "{value} is asked of: {row}"),
            _ => assert_eq!(tell(name, blind, &rules), value, "{name} of: {row}"),
        }
    }
}

/// `name = value` pairs between semicolons; a name alone has an empty value.
fn pairs(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.split(';').map(str::trim).filter(|pair| !pair.is_empty()).map(|pair| {
        let (name, value) = pair.split_once('=').unwrap_or((pair, ""));
        (name.trim(), value.trim())
    })
}

/// A survey of one opening, from its row.
pub fn survey_text(row: &str) -> String {
    let of_project = |name: &str| PROJECT.columns.iter().any(|item| item.name.eq_ignore_ascii_case(name));
    let (items, cells): (Vec<_>, Vec<_>) = pairs(row).partition(|(name, _)| of_project(name));
    let mut project: Vec<String> = items.iter().map(|(name, value)| format!("{name} | {value}")).collect();
    if !items.iter().any(|(name, _)| *name == "Units") {
        project.push("Units | in".to_owned());
    }
    let (headings, values): (Vec<&str>, Vec<&str>) = cells.into_iter().unzip();
    format!(
        "[Project]\n{}\n[Openings]\nUnit | Opening | {}\n101 | W1 | {}\n",
        project.join("\n"),
        headings.join(" | "),
        values.join(" | ")
    )
}

/// What a blind's property of that name is, as the cases write it.
fn tell(name: &str, blind: Option<&Blind<'_>>, rules: &Rules) -> String {
    let Some(blind) = blind else { return "held".to_owned() };
    let (sizing, fitted) = (&blind.sizing, &blind.fitted);
    let length = |length: Length| match rules.project.units {
        Units::Inches => length.show(Units::Inches).trim_end_matches(" in").to_owned(),
        Units::Millimeters => length.show(Units::Millimeters),
    };
    let known = |value: Option<Length>| value.map_or("unknown".to_owned(), length);
    let list = |lengths: &[Length]| lengths.iter().map(|each| length(*each)).collect::<Vec<_>>().join(", ");
    let above_head = || {
        let over = sillbook::length::Length::sixty_fourths(16);
        fitted.brackets.top_above_head.map(|top| top - over)
    };
    let rounded = |number: Option<Decimal>, decimals| {
        number.map_or("unknown".to_owned(), |number| half_away(number, decimals).normalize().to_string())
    };
    let (share, force) = (|part| rounded(part, 3), |newtons| rounded(newtons, 1));
    let (stack, louvers) = fitted.panel.stack.zip(fitted.panel.louvers).expect("a blind of louvers");
    match name {
        "widths" => {
            format!("{} to {}", length(sizing.window.least().width), length(sizing.window.most().width))
        }
        "drops" => format!("{} to {}", length(sizing.window.least().drop), length(sizing.window.most().drop)),
        "on" => sizing.hung.on().word().to_owned(),
        "lean" => known(sizing.lean.map(|lean| lean.by)),
        "fixing" => fitted.fixings.most.fixing.map_or("not chosen", |fixing| &fixing.item).to_owned(),
        "fixings" => fitted.fixings.count().to_string(),
        "also" => fitted.fixings.also.map_or("none".to_owned(), |also| {
            format!("{} {}", also.count, also.fixing.map_or("not chosen", |fixing| &fixing.item))
        }),
        "hung" => share(fitted.fixings.working.and_then(|working| working.hung())),
        "pulled" => share(fitted.fixings.working.and_then(|working| working.pulled())),
        "reaction" => force(fitted.fixings.working.map(|working| working.reaction)),
        "needed" => force(fitted.fixings.working.and_then(|working| working.needed())),
        "mount" => sizing.hung.mount().word().to_owned(),
        "release" => sizing.release.word().to_owned(),
        "draw" => stack.draw.word().to_owned(),
        "width" => length(blind.sourced.size.width),
        "drop" => length(blind.sourced.size.drop),
        "louvers" => louvers.count.to_string(),
        "louver length" => length(louvers.length),
        "links" => {
            let links = |(ware, _): &&(Ware, u32)| *ware == Ware::Small(SmallPart::SpacerLink);
            fitted.wares.iter().find(links).map_or(0, |(_, count)| count / 2).to_string()
        }
        "stack" => length(stack.width),
        "clear" => known(fitted.clear_open),
        "clear for escape" => known(fitted.escape.and_then(|escape| escape.clear)),
        "reach" => known(sizing.hung.reach()),
        "setback" => known(sizing.hung.setback()),
        "stands proud" => known(sizing.hung.in_recess().map(|rail| rail.stands_proud)),
        "above head" => known(above_head()),
        "bracket top above floor" => known(fitted.brackets.top_above_floor),
        "brackets" => fitted.brackets.count().to_string(),
        "centers" => list(&fitted.brackets.from_left),
        "from opening" => list(fitted.brackets.from_opening_left.as_deref().unwrap_or_default()),
        "clips" => list(&fitted.clips),
        "overlap left" => known(fitted.overlap_left()),
        "overlap right" => known(fitted.overlap_right()),
        "see past" => fitted.see_past().map_or("unknown".to_owned(), |angle: Angle| angle.to_string()),
        "valance" => known(fitted.valance),
        "return left" => length(fitted.returns().left),
        "return right" => length(fitted.returns().right),
        "wand" => known(fitted.wand),
        "control side" => fitted.control_side.map_or("unknown".to_owned(), |side| side.word().to_owned()),
        "people" => fitted.people.to_string(),
        "gap below" => known(fitted.gap_below),
        "gap to sill" => known(fitted.gap_to_sill),
        "weight" => {
            let kilograms: Decimal = fitted.weight;
            kilograms.normalize().to_string()
        }
        other => panic!("no property is called {other}"),
    }
}
