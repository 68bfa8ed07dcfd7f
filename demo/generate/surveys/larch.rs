//! Larch Terrace: an invented refurbishment in three phases. 30 flats, 110 openings, millimeters,
//! made in one's own workshop.

use sillbook::rules::columns::options::{NOTE as NOTE_OF_OPTION, OPTION};
use sillbook::rules::columns::phases::COLUMNS as phases;
use sillbook::rules::columns::project::COLUMNS as project;
use sillbook::schema::openings::*;
use sillbook::schema::{Column, Kind as Holds};
use sillbook::survey::{
    Control, DepthTo, EndsAt, Floor, Kind, Leaf, MotorSide, MountWanted, Opens, SizeSource, Slab, Substrate,
};

use super::chance::Chance;
use super::row::{Row, RowSheet};
use super::workbook::{Cell, Merged, Sheet, Survey};
use super::workshop;

/// Flats, a third of them in each phase.
const FLATS: u64 = 30;
const FLATS_IN_A_PHASE: u64 = 10;
/// The parts of the terrace, one a phase.
const WINGS: [&str; 3] = ["East wing", "Middle", "West wing"];

/// The types of window that recur in every flat.
const BEDROOM: &str = "BW";
const KITCHEN: &str = "KW";

/// The workbook.
pub fn survey() -> Survey {
    let mut sheets = vec![project_sheet(), phases_sheet(), options_sheet(), openings_sheet(), types_sheet()];
    sheets.extend(workshop::sheets());
    Survey { sheets }
}

/// Openings in rows of their own, by quantity: one flat's rows after another's.
fn openings_sheet() -> Sheet {
    let mut rows = Vec::new();
    let mut blocks = Vec::new();
    for (wing, first) in (0..).zip((1..=FLATS).step_by(FLATS_IN_A_PHASE as usize)) {
        let start = rows.len();
        rows.extend((first..first + FLATS_IN_A_PHASE).flat_map(flat));
        rows[start].set(&BUILDING, WINGS[wing]);
        rows[start].set(&PHASE, format!("Phase {}", wing + 1));
        blocks.push((start as u32, rows.len() as u32 - 1));
    }
    rows.push(not_measured());
    rows.push(total());

    let openings = RowSheet::of(rows);
    let merged = [&BUILDING, &PHASE].into_iter().filter_map(|column| openings.position(column));
    let merged = merged.flat_map(|column| blocks.iter().map(move |&rows| Merged { column, rows })).collect();
    Sheet { merged, ..openings.into_sheet(heading) }
}

/// Lengths are in millimeters and say so; a sill is read off a leveling staff in centimeters.
fn heading(column: &Column) -> String {
    match column.kind {
        Holds::Length { .. } if column.slot == SILL_HEIGHT.slot => format!("{} (cm)", column.name),
        Holds::Length { .. } => format!("{} (mm)", column.name),
        _ => column.name.to_owned(),
    }
}

/// The rows of one flat. Three sorts of flat follow each other along the terrace.
fn flat(number: u64) -> Vec<Row> {
    let flat = Flat { number };
    match number % 3 {
        1 => vec![flat.lounge_door("D1"), flat.bedroom("W1", "Bedroom", 2), flat.kitchen("W2")],
        2 => vec![
            flat.lounge_window("W1"),
            flat.bedroom("W2", "Bedroom 1", 1),
            flat.bedroom("W3", "Bedroom 2", 1),
            flat.kitchen("W4"),
        ],
        _ => vec![flat.lounge_door("D1"), flat.bedroom("W1", "Bedroom", 1), flat.kitchen("W2")],
    }
}

struct Flat {
    number: u64,
}

impl Flat {
    fn opening(&self, mark: &str, room: &str) -> Row {
        let mut row = Row::of(&OPENINGS);
        row.set(&OPENING, format!("L{:02}-{mark}", self.number));
        row.set(&FLOOR, if self.number % 3 == 1 { "Ground" } else { "First" });
        row.set(&UNIT, format!("Flat {}", self.number));
        row.set(&ROOM, room);
        row
    }

    /// Old reveals are seldom parallel: of three readings some are less than the others, by one of
    /// `out_of_true` in millimeters.
    fn measure(&self, row: &mut Row, mark: &str, [width, height]: [i32; 2], out_of_true: &[i32]) {
        let mark = mark.bytes().map(u64::from);
        let place: Vec<u64> = [self.number].into_iter().chain(mark).collect();
        let mut chance = Chance::at(&place);
        for (size, columns) in [
            (width, [&WIDTH_TOP, &WIDTH_MIDDLE, &WIDTH_BOTTOM]),
            (height, [&HEIGHT_LEFT, &HEIGHT_MIDDLE, &HEIGHT_RIGHT]),
        ] {
            let size = size + chance.pick(&[-4, -2, 0, 0, 0, 0, 0, 0, 3]);
            let less = chance.pick(out_of_true);
            for column in columns {
                row.set(column, written(size - chance.pick(&[0, 0, less]), &mut chance));
            }
        }
    }

    /// On the wall above a glazed door: the bracket goes into a concrete lintel.
    fn lounge_door(&self, mark: &str) -> Row {
        let mut row = self.opening(mark, "Lounge");
        row.set(&KIND, Kind::PatioDoor.word());
        self.measure(&mut row, mark, [1_790, 2_085], &[0, 0, 1, 2, 4, 6]);
        row.set(&RECESS_DEPTH, 60);
        row.set(&DEPTH_TO, DepthTo::Frame.word());
        row.set(&HANDLE, 45);
        let (left, right, leaf) =
            if self.number.is_multiple_of(2) { (310, 640, Leaf::Left) } else { (640, 310, Leaf::Right) };
        row.set(&WALL_LEFT, left);
        row.set(&WALL_RIGHT, right);
        row.set(&FLOOR_SURFACE, Floor::Hard.word());
        row.set(&MOUNT, MountWanted::Outside.word());
        row.set(&OPENING_LEAF, leaf.word());
        row.set(&OPENS, Opens::Out.word());
        row.set(&SUBSTRATE, Substrate::Concrete.word());
        match self.number {
            7 => under_shelf(&mut row),
            12 => under_beam(&mut row),
            _ => {}
        }
        row
    }

    /// A wide window over a radiator, with a cupboard on one side.
    fn lounge_window(&self, mark: &str) -> Row {
        let mut row = self.opening(mark, "Lounge");
        row.set(&KIND, Kind::Window.word());
        self.measure(&mut row, mark, [1_760, 1_340], &[0, 0, 1, 2, 4, 6]);
        row.set(&RECESS_DEPTH, 70);
        row.set(&DEPTH_TO, DepthTo::Frame.word());
        row.set(&HANDLE, 30);
        row.set(&WALL_LEFT, 420);
        row.set(&WALL_RIGHT, 85);
        row.set(&RIGHT_ENDS_AT, EndsAt::Cupboard.word());
        row.set(&WALL_BELOW, 45);
        row.set(&BELOW_STANDS_OUT, 110);
        row.set(&HEATER_BELOW, "yes");
        row.set(&SILL_HEIGHT, 85);
        row.set(&MOUNT, MountWanted::Either.word());
        row.set(&OPENS, Opens::Slide.word());
        row.set(&SUBSTRATE, Substrate::Masonry.word());
        row.set(&PRODUCT, workshop::HEAVY);
        row.set(&COLOR, workshop::SLATE);
        row.set(&NOTE, "radiator below");
        if self.number == 26 {
            row.set(&CONTROL, Control::Motor.word());
            row.set(&MOTOR_SIDE, MotorSide::Right.word());
        }
        row
    }

    fn bedroom(&self, mark: &str, room: &str, quantity: i32) -> Row {
        let mut row = self.opening(mark, room);
        row.set(&TYPE, BEDROOM);
        if quantity > 1 {
            row.set(&QUANTITY, quantity);
        }
        self.measure(&mut row, mark, [1_180, 1_240], &[0, 0, 0, 1, 2, 3]);
        row
    }

    /// One kitchen was let to a tenant who was away: its size is that of the flat below.
    fn kitchen(&self, mark: &str) -> Row {
        let mut row = self.opening(mark, "Kitchen");
        row.set(&TYPE, KITCHEN);
        self.measure(&mut row, mark, [880, 1_040], &[0, 0, 0, 1, 2, 3]);
        if self.number == 17 {
            row.set(&MEASURED, SizeSource::Typical.word());
            row.set(&NOTE, "tenant away, size of flat 14");
        }
        if self.number == 23 {
            row.set(&SLAB, Slab::Tensioned.word());
            row.set(&NOTE, "lintel replaced in 2004, prestressed");
        }
        row
    }
}

/// An old casing below a shelf: between the two there is no room for a bracket, so it goes on the casing.
fn under_shelf(row: &mut Row) {
    row.set(&TRIM, 22);
    row.set(&CASING_WIDTH, 95);
    row.set(&WALL_ABOVE, 115);
    row.set(&NOTE, "built-in shelf above the casing, stays");
}

/// A beam so close above the door that the blind hangs from it.
fn under_beam(row: &mut Row) {
    row.set(&WALL_ABOVE, 38);
    row.set(&MOUNT, MountWanted::Ceiling.word());
    row.set(&SLAB, Slab::Cleared.word());
    row.set(&NOTE, "beam above the door searched and released for drilling on 14 April");
}

/// Most readings are numbers; now and then someone writes the unit, or groups the thousands.
fn written(mm: i32, chance: &mut Chance) -> Cell {
    let (meters, rest) = (mm / 1_000, mm % 1_000);
    match chance.pick(&[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 2, 3, 4]) {
        1 => format!("{mm} mm").into(),
        2 => format!("{}.{} cm", mm / 10, mm % 10).into(),
        3 => format!("{meters}.{rest:03} m").into(),
        4 if meters > 0 => format!("{meters},{rest:03}").into(),
        _ => mm.into(),
    }
}

/// An opening that was seen but not measured: it is counted, and nothing is made for it.
fn not_measured() -> Row {
    let mut row = Row::of(&OPENINGS);
    row.set(&OPENING, "L30-W3");
    row.set(&UNIT, "Flat 30");
    row.set(&ROOM, "Stair");
    row.set(&NOTE, "bricked up in phase 3, no blind");
    row
}

/// What a person adds at the foot of a list.
fn total() -> Row {
    let mut row = Row::of(&OPENINGS);
    row.set(&OPENING, "Total");
    row.set(&QUANTITY, 110);
    row
}

/// What is the same wherever a type recurs.
fn types_sheet() -> Sheet {
    let window = |name: &str, sill_cm: i32, floor: Floor| {
        let mut row = Row::of(&OPENINGS);
        row.set(&TYPE, name);
        row.set(&KIND, Kind::Window.word());
        row.set(&RECESS_DEPTH, 125);
        row.set(&DEPTH_TO, DepthTo::Frame.word());
        row.set(&HANDLE, 30);
        row.set(&WALL_LEFT, 200);
        row.set(&WALL_RIGHT, 200);
        row.set(&SILL_HEIGHT, sill_cm);
        row.set(&FLOOR_SURFACE, floor.word());
        row.set(&MOUNT, MountWanted::Inside.word());
        row.set(&OPENING_LEAF, Leaf::Both.word());
        row.set(&OPENS, Opens::Out.word());
        row.set(&SUBSTRATE, Substrate::Concrete.word());
        row.set(&SLAB, Slab::Plain.word());
        row
    };
    let types = vec![window(BEDROOM, 90, Floor::Carpet), window(KITCHEN, 110, Floor::Hard)];
    Sheet { name: "Types", ..RowSheet::of(types).into_sheet(heading) }
}

fn project_sheet() -> Sheet {
    Sheet::of_items(
        "Project",
        vec![
            (project.name.name, "Larch Terrace, new blinds".into()),
            (project.site.name, "Larch Terrace 1 to 30".into()),
            (project.client.name, "The terrace's housing association".into()),
            (project.surveyed_by.name, "The workshop's own surveyor".into()),
            (project.survey_date.name, Cell::Date(2026, 4, 20)),
            (project.revision.name, "2".into()),
            (project.units.name, "mm".into()),
            (project.currency.name, "EUR".into()),
            (project.jurisdiction.name, "EU".into()),
            (project.floors_finished.name, "yes".into()),
            (project.ceiling_height.name, 2_480.into()),
            (project.built.name, 1958.into()),
            (project.tax.name, Cell::Percent(0.21)),
            (project.overhead.name, Cell::Percent(0.12)),
            (project.profit.name, Cell::Percent(0.08)),
            (project.contingency.name, Cell::Percent(0.05)),
            (project.labor_rate.name, Cell::Number(41.5)),
            (project.spare_louvers.name, Cell::Percent(0.03)),
            (project.cost_basis.name, "make".into()),
            (project.merge_sizes.name, 6.into()),
            (project.order_date.name, Cell::Date(2026, 5, 4)),
            (project.need_by.name, Cell::Date(2026, 6, 15)),
        ],
    )
}

/// One part of the terrace after another, each measured against a year's budget.
fn phases_sheet() -> Sheet {
    let headings = [
        &phases.phase,
        &phases.order_date,
        &phases.need_by,
        &phases.starts,
        &phases.fitters,
        &phases.hours_a_day,
        &phases.budget,
    ];
    let phase = |name: &str, [order, need_by, starts]: [(u8, u8); 3], budget: i32| {
        let day = |(month, day)| Some(Cell::Date(2026, month, day));
        let cells = [Some(Cell::from(name)), day(order), day(need_by), day(starts)];
        cells.into_iter().chain([Some(2.into()), Some(7.into()), Some(budget.into())]).collect()
    };
    let rows = vec![
        phase("Phase 1", [(5, 4), (6, 15), (6, 22)], 8_500),
        phase("Phase 2", [(6, 1), (7, 13), (7, 20)], 8_500),
        phase("Phase 3", [(8, 3), (9, 14), (9, 21)], 8_500),
    ];
    Sheet::new("Phases", headings.map(|column| column.name.to_owned()).into(), rows)
}

/// What the housing association asked about: bought blinds, one color throughout, and fewer sizes.
fn options_sheet() -> Sheet {
    let headings =
        [OPTION.name, NOTE_OF_OPTION.name, project.cost_basis.name, project.merge_sizes.name, COLOR.name];
    let text = |text: &str| Some(text).filter(|text| !text.is_empty()).map(Cell::from);
    let option = |cells: [&str; 5]| cells.into_iter().map(text).collect();
    let rows = vec![
        option(["Bought", "not made in the workshop", "buy", "", ""]),
        option(["One color", "easier to replace", "", "", workshop::SLATE]),
        option(["Sizes as measured", "", "", "no", ""]),
        option(["Fewer sizes", "up to half an inch", "", "13 mm", ""]),
    ];
    Sheet::new("Options", headings.map(str::to_owned).into(), rows)
}
