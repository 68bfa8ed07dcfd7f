//! `Openings`: every column.

use serde_json::{Value, json};

use super::Is::{Count, Day, Degrees, Kilograms, Length, Share, Text};
use super::table::{self, Table};
use super::{Figure, RUNS, Run, figure, mm};
use sillbook::rules::SizesGiven;

const FIGURES: &[Figure] = &[
    figure("Opening", Text, "name"),
    figure("Building", Text, "building"),
    figure("Floor", Text, "floor"),
    figure("Unit", Text, "unit"),
    figure("Room", Text, "room"),
    figure("Phase", Text, "phase"),
    figure("State", Text, "state"),
    figure("Reason held", Text, "beside.held_by"),
    figure("Quantity", Count, "quantity"),
    figure("Kind", Text, "beside.kind"),
    figure("Opening width, minimum", Length, "beside.width_least"),
    figure("Opening width, maximum", Length, "beside.width_most"),
    figure("Opening height, minimum", Length, "beside.height_least"),
    figure("Opening height, maximum", Length, "beside.height_most"),
    figure("Product", Text, "product"),
    figure("Color", Text, "color"),
    figure("Mount", Text, "mount"),
    figure("Finished width", Length, "width_mm"),
    figure("Finished drop", Length, "drop_mm"),
    figure("Source", Text, "source"),
    figure("Lead time (days)", Count, "beside.lead_days"),
    figure("Arrives", Day, "beside.arrives"),
    figure("Louvers", Count, "louvers.count"),
    figure("Louver length", Length, "louvers.length_mm"),
    figure("Draw", Text, "draw"),
    figure("Stack width per side", Length, "stack_mm"),
    figure("Clear width when open", Length, "clear_open_mm").or("unknown"),
    figure("Clear width for escape", Length, "escape_clear_mm"),
    figure("Control", Text, "control"),
    figure("Control side", Text, "control_side"),
    figure("Wand length", Length, "wand_mm"),
    figure("Cord device", Text, "cord_device"),
    figure("Cord height above floor", Length, "cord_height_mm"),
    figure("Bracket", Text, "brackets.item"),
    figure("Brackets", Count, "brackets.count"),
    figure("Reach", Length, "brackets.reach_mm"),
    figure("Setback", Length, "brackets.setback_mm"),
    figure("Bracket top above floor", Length, "brackets.top_above_floor_mm").or("unknown"),
    figure("Bracket top above head", Length, "brackets.top_above_head_mm").or("unknown"),
    figure("Fixing", Text, "fixings.item").or("not chosen"),
    figure("Fixings", Count, "fixings.count"),
    figure("Mounted on", Text, "mount_on"),
    figure("Out of square", Length, "lean_mm"),
    figure("Load / capacity (%)", Share, "fixings.use").or("unknown"),
    figure("Valance front", Length, "valance_mm"),
    figure("Return left", Length, "return_left_mm"),
    figure("Return right", Length, "return_right_mm"),
    figure("Overlap left", Length, "beside.overlap_left"),
    figure("Overlap right", Length, "beside.overlap_right"),
    figure("See-past angle (degrees)", Degrees, "see_past_deg"),
    figure("Gap to floor", Length, "beside.gap_below").or("unknown"),
    figure("Projects past wall", Length, "beside.stands_proud"),
    figure("Weight", Kilograms, "weight_kg"),
    figure("People to lift", Count, "people"),
    figure("Note", Text, "beside.note"),
    figure("Survey cell", Text, "at"),
];

/// An opening of the document, and beside it what that does not hold.
fn row(run: &Run, place: usize) -> Value {
    let mut row = run.list("openings")[place].clone();
    let (survey, blind) = (&run.report.survey.openings[place], run.report.blinds[place].as_ref());
    let given = run.report.rules.project.sizes_given == SizesGiven::Opening;
    let facts = survey.facts.as_ref();
    let sizes = facts.filter(|_| given);
    // A blind in a recess has gaps, which are no overlaps.
    let overlap = |side: &str| if row["mount"] != "inside" { row[side].clone() } else { Value::Null };
    let rail = blind.and_then(|blind| blind.sizing.hung.in_recess());
    row["beside"] = json!({
        "held_by": held_by(run, &row["name"]),
        "kind": facts.map(|facts| facts.kind.word()),
        "width_least": sizes.map(|facts| mm(facts.width.least().value)),
        "width_most": sizes.map(|facts| mm(facts.width.most().value)),
        "height_least": sizes.map(|facts| mm(facts.height.least().value)),
        "height_most": sizes.map(|facts| mm(facts.height.most().value)),
        "lead_days": blind.and_then(|blind| blind.sourced.lead_days),
        "arrives": blind.and_then(|blind| blind.sourced.arrives).map(|date| date.to_string()),
        "overlap_left": overlap("overlap_left_mm"),
        "overlap_right": overlap("overlap_right_mm"),
        "gap_below": blind.and_then(|blind| blind.fitted.gap_below).map(mm),
        "stands_proud": rail.map(|rail| mm(rail.stands_proud)),
        "note": &*survey.who.note,
    });
    for (heading, value) in run.report.survey.carried.iter().zip(&survey.who.carried) {
        row[&**heading] = json!(&**value);
    }
    row
}

/// The stops that name an opening, with what is special to it.
fn held_by(run: &Run, name: &Value) -> String {
    let names = &run.report.survey.openings;
    let stops = run.report.queries.iter().filter(|query| query.severity.to_string() == "stop");
    let places = stops.flat_map(|query| query.places.iter().map(move |place| (query, place)));
    let of_this = places.filter(|(_, place)| place.opening.is_some_and(|at| *names[at].who.name == *name));
    let told = of_this.map(|(query, place)| match place.detail.as_str() {
        "" => query.message.clone(),
        detail => format!("{} ({detail})", query.message),
    });
    told.collect::<Vec<_>>().join("; ")
}

#[test]
fn every_column_of_openings_shows_its_number() {
    let mut figures = FIGURES.to_vec();
    for heading in RUNS.iter().flat_map(|run| &run.report.survey.carried) {
        if figures.iter().all(|figure| figure.name != &**heading) {
            figures.push(figure(heading, Text, heading));
        }
    }
    let tables: Vec<Table<'_>> = RUNS
        .iter()
        .map(|run| {
            let rows = (0..run.list("openings").len()).map(|place| row(run, place)).collect();
            Table::under(run, "Openings", (0, "Opening"), rows)
        })
        .collect();
    table::check(&figures, &tables);
}
