//! A small block written out by hand: 2 units, 4 openings, one of them provisional and one held.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;
use sillbook::angle::Angle;
use sillbook::cost::{AmountFormula, Breakdown, Cost, CostLine, NotInTotal, RateFrom, Section};
use sillbook::cutting::{CutPlan, Cuts, From, Part, Pattern, Piece};
use sillbook::fitting::{Blind, Brackets, ControlSide, Fitted, Fixings, Louvers};
use sillbook::hardware::{Hardware, HardwareItem, UnitCounts};
use sillbook::length::{Length, Units};
use sillbook::money::Currency;
use sillbook::order::{LineKey, Order, OrderLine};
use sillbook::place::{CellRef, SheetId, Sheets};
use sillbook::query::{GatheredQuery, QueryPlace, Severity};
use sillbook::report::{Counts, Report};
use sillbook::rules::{
    Capacity, CostBasis, Family, Fixing, FloorsFinished, Jurisdiction, LouverRules, PriceList, Product, Project,
    Rates, RuleUsed, Rules, SizesGiven, TaxOn,
};
use sillbook::sizing::{Mount, Release, Size, SizeWindow, Sizing};
use sillbook::sourcing::{Sourced, Supply};
use sillbook::survey::{
    Assumption, Control, Draw, EndsAt, Facts, Floor, Given, Identity, Kind, Measured, Opening, Source, Substrate,
    Survey,
};
use sillbook::worked::Rule;

/// What a report borrows.
pub struct Block {
    sheets: Sheets,
    rules: Rules,
    survey: Survey,
    sheet: SheetId,
}

/// Eighths of an inch.
fn eighths(count: i64) -> Length {
    Length::sixty_fourths(8 * count)
}

fn inches(count: i64) -> Length {
    Length::inches(count)
}

fn rule<T>(value: T, key: &str) -> Rule<T> {
    Rule { value, name: format!("louver-89.{key}") }
}

impl Block {
    /// The block, with a text of the caller's in the note of the first opening.
    pub fn with_note(note: &str) -> Block {
        let mut sheets = Sheets::default();
        let sheet = sheets.enter("block.xlsx", "Openings").expect("one sheet");
        let identity = |row: u32, unit: &str, id: &str, room: &str, note: &str| Identity {
            written: id.into(),
            name: format!("{unit}/{id}").into(),
            survey: "block.xlsx".into(),
            at: CellRef { sheet, row, column: 0 },
            building: "North".into(),
            floor: "3".into(),
            unit: unit.into(),
            room: room.into(),
            phase: "1".into(),
            note: note.into(),
            carried: vec![format!("door set {row}").into()],
            quantity: 1,
        };
        let given = |value| Given { value, at: CellRef { sheet, row: 1, column: 9 } };
        let facts = |kind, width, height, sill| Facts {
            kind,
            width: Measured::new(vec![given(width)]).expect("one width"),
            height: Measured::new(vec![given(height), given(height + eighths(1))]).expect("two heights"),
            diagonals: None,
            source: Source::Tape,
            source_at: None,
            recess_depth: None,
            depth_to: None,
            handle: None,
            trim: None,
            wall_left: None,
            wall_right: None,
            wall_above: None,
            wall_below: None,
            left_ends_at: EndsAt::Free,
            right_ends_at: EndsAt::Free,
            sill: Some(given(sill)),
            floor: Some(Given { value: Floor::Hard, at: CellRef { sheet, row: 1, column: 9 } }),
            floor_to_come: None,
            header_height: None,
            header_offset: None,
            mount: None,
            drop_wanted: None,
            product: None,
            colour: None,
            leaf: None,
            opens: None,
            draw: None,
            control: None,
            substrate: Some(Given { value: Substrate::Timber, at: CellRef { sheet, row: 1, column: 9 } }),
            accessible: false,
            escape: kind == Kind::Window,
        };
        let door = || Some(Box::new(facts(Kind::PatioDoor, inches(106), inches(78), Length::ZERO)));
        let openings = vec![
            Opening { who: identity(1, "0304", "D1", "Living room", note), facts: door() },
            Opening {
                who: identity(2, "0304", "W2", "Bedroom", ""),
                facts: Some(Box::new(facts(Kind::Window, inches(106), inches(78), inches(12)))),
            },
            Opening { who: identity(3, "0305", "D1", "Living room", ""), facts: door() },
            Opening { who: identity(4, "0305", "W2", "Kitchen", ""), facts: None },
        ];
        let survey = Survey { openings, carried: vec!["Door set".into()], rows: 4, assumptions: vec![] };
        Block { sheets, rules: rules(), survey, sheet }
    }

    /// The block without notes.
    pub fn plain() -> Block {
        Block::with_note("")
    }

    /// What the stages would hand on.
    pub fn report(&self) -> Report<'_> {
        let at = |row| Some(CellRef { sheet: self.sheet, row, column: 9 });
        let place = |opening: usize, detail: &str| QueryPlace {
            at: at(opening as u32 + 1),
            opening: Some(opening),
            detail: detail.to_owned(),
        };
        Report {
            sheets: &self.sheets,
            rules: &self.rules,
            survey: &self.survey,
            blinds: vec![Some(self.outside()), Some(self.inside()), Some(self.outside()), None],
            merging: None,
            order: order(),
            cuts: cuts(),
            hardware: hardware(),
            cost: cost(),
            assumptions: vec![
                Assumption { column: "Wall left", value: "enough".to_owned(), openings: 3 },
                Assumption { column: "Currency", value: "USD".to_owned(), openings: 0 },
            ],
            queries: vec![
                GatheredQuery {
                    severity: Severity::Stop,
                    message: "no height is given".to_owned(),
                    hint: "measure it and fill in Height".to_owned(),
                    places: vec![place(3, "")],
                },
                GatheredQuery {
                    severity: Severity::Check,
                    message: "the handle is blank on a door".to_owned(),
                    hint: "measure how far its tip stands out, or write 0".to_owned(),
                    places: vec![place(0, ""), place(2, "")],
                },
                GatheredQuery {
                    severity: Severity::Check,
                    message: "inside, but not measured with a tape".to_owned(),
                    hint: "measure it with a tape before it is made".to_owned(),
                    places: vec![place(1, "drawing")],
                },
            ],
            counts: Counts { rows: 4, openings: 4, sized: 2, provisional: 1, held: 1, blinds: 3, sizes: 2 },
        }
    }

    /// 106 x 78 in, outside: 110 x 83 1/2; brackets at 4, 29 1/2, 55, 80 1/2 and 106.
    fn outside(&self) -> Blind<'_> {
        let size = Size { width: inches(110), drop: eighths(83 * 8 + 4) };
        let from_left: Vec<Length> = [32, 236, 440, 644, 848].map(eighths).to_vec();
        let product = &self.rules.products[0];
        let Family::Louver(louver) = &product.family;
        Blind {
            sizing: Sizing {
                product,
                colour: &product.colours[0],
                mount: Mount::Outside,
                release: Release::Make,
                window: SizeWindow::new(size, size, size),
                allowance: None,
            },
            sourced: Sourced { size, supply: Supply::Made, arrives: None, lead_days: Some(15) },
            fitted: Fitted {
                draw: Draw::Left,
                control: Control::Wand,
                control_side: Some(ControlSide::Right),
                wand: Some(inches(36)),
                louvers: Louvers { count: 36, length: inches(82), links: 35 },
                stack: inches(17),
                clear_open: Some(inches(91)),
                brackets: Brackets {
                    item: &louver.bracket_items[0],
                    reach: Some(inches(3)),
                    setback: None,
                    from_opening_left: Some(from_left.iter().map(|&at| at - inches(2)).collect()),
                    from_left,
                    top_above_floor: Some(eighths(84 * 8 + 2)),
                    top_above_head: Some(eighths(6 * 8 + 2)),
                },
                fixings: Fixings {
                    fixing: Some(&self.rules.fixings[0]),
                    count: 10,
                    use_of_capacity: Some(Decimal::new(31, 2)),
                },
                valance: eighths(110 * 8 + 4),
                return_left: inches(5),
                return_right: inches(5),
                clips: vec![],
                overlap_left: Some(inches(2)),
                overlap_right: Some(inches(2)),
                see_past: Some(Angle::from_tangent(inches(2), inches(3))),
                rail_cut: eighths(110 * 8 - 2),
                rod_cut: inches(109),
                weight: Decimal::new(1_098, 2),
                people: 2,
                stands_proud: None,
                gap_below: Some(eighths(4)),
            },
        }
    }

    /// 106 x 78 in, inside: 105 1/2 x 77 1/2, provisional.
    fn inside(&self) -> Blind<'_> {
        let size = Size { width: eighths(105 * 8 + 4), drop: eighths(77 * 8 + 4) };
        let mut blind = self.outside();
        let Family::Louver(louver) = &blind.sizing.product.family;
        // (105 1/2 - 8) / 4 = 24 3/8 in from one to the next, the first at 4 in.
        let from_left: Vec<Length> = (0..5).map(|place| eighths(32 + 195 * place)).collect();
        blind.sizing.mount = Mount::Inside;
        blind.sizing.release = Release::Provisional;
        blind.sizing.window = SizeWindow::new(size, size, size);
        blind.sourced.size = size;
        let fitted = &mut blind.fitted;
        fitted.louvers = Louvers { count: 34, length: eighths(75 * 8 + 6), links: 33 };
        fitted.brackets = Brackets {
            item: &louver.inside_bracket_item,
            reach: None,
            setback: Some(eighths(14)),
            from_opening_left: Some(from_left.iter().map(|&at| at + eighths(2)).collect()),
            from_left,
            top_above_floor: Some(inches(90)),
            top_above_head: Some(Length::ZERO),
        };
        fitted.fixings = Fixings { fixing: None, count: 10, use_of_capacity: None };
        fitted.overlap_left = Some(-eighths(2));
        fitted.overlap_right = Some(-eighths(2));
        fitted.see_past = None;
        blind
    }
}

fn order() -> Order {
    let key = LineKey {
        product: "louver-89".into(),
        colour: "white".into(),
        size: Size { width: inches(110), drop: eighths(83 * 8 + 4) },
        louver_count: 36,
        louver_length: inches(82),
        draw: Draw::Left,
        control: Control::Wand,
        control_side: Some(ControlSide::Right),
        wand: Some(inches(36)),
        mount: Mount::Outside,
        bracket: "bracket 3 in".into(),
        bracket_count: 5,
        reach: Some(inches(3)),
        valance: eighths(110 * 8 + 4),
        return_left: inches(5),
        return_right: inches(5),
        phase: "1".into(),
        stock: None,
        release: Release::Make,
    };
    let inside = LineKey {
        size: Size { width: eighths(105 * 8 + 4), drop: eighths(77 * 8 + 4) },
        louver_count: 34,
        louver_length: eighths(75 * 8 + 6),
        mount: Mount::Inside,
        bracket: "inside bracket".into(),
        reach: None,
        valance: eighths(105 * 8 + 4),
        return_left: Length::ZERO,
        return_right: Length::ZERO,
        release: Release::Provisional,
        ..key.clone()
    };
    let line = |line, key: LineKey, openings: Vec<usize>| OrderLine {
        line,
        quantity: openings.len() as u64,
        openings,
        rail_cut: key.size.width - eighths(2),
        rod_cut: key.size.width - inches(1),
        weight: Decimal::new(1_098, 2),
        key,
    };
    Order { lines: vec![line(1, key, vec![0, 2]), line(2, inside, vec![1])] }
}

/// Two headrails of 109 3/4 in on a 5.8 m bar each of their own (2 x 2.788 m + kerf and trims fit on one).
fn cuts() -> Cuts {
    let rail = Piece { length: eighths(110 * 8 - 2), line: Some(1), part: Part::Headrail };
    let stock = Length::from_mm(5_800);
    let (kerf, trim) = (Length::from_mm(3), Length::from_mm(10));
    // 5,800 - 10 - 2 x 2,787.65 - 2 x 3 = 208.7 mm.
    let offcut = stock - trim - rail.length * 2 - kerf * 2;
    Cuts {
        plans: vec![CutPlan {
            material: "rail".into(),
            colour: "white".into(),
            kerf,
            trim,
            least_useful: Length::from_mm(600),
            patterns: vec![Pattern { number: 1, bars: 1, stock, from: From::Bar, pieces: vec![rail, rail], offcut }],
            pieces: 2,
            bars: 1,
            bought: vec![(stock, Some(Decimal::new(2600, 2)), 1)],
            at_least: Some(1),
            cost: Some(Decimal::new(2600, 2)),
            cost_at_least: Some(Decimal::new(2600, 2)),
            proven: true,
            used_share: Decimal::new(9613, 4),
        }],
    }
}

fn hardware() -> Hardware {
    let item = |item: &str, substrate, needed, spare, comes: u64, pack: Option<u32>, packs| HardwareItem {
        item: item.into(),
        size: String::new(),
        substrate,
        needed,
        needed_to_make: needed,
        comes_with_blinds: comes,
        spare,
        pack_of: pack,
        packs,
        used: "outside mounts".to_owned(),
    };
    let unit = |unit: &str, counts: &[(usize, u64)]| UnitCounts {
        building: "North".into(),
        floor: "3".into(),
        unit: unit.into(),
        counts: counts.iter().copied().collect::<BTreeMap<_, _>>(),
    };
    Hardware {
        items: vec![
            item("bracket 3 in", "", 10, 0, 10, Some(10), Some(0)),
            item("wood screw 8 x 1 1/2", "timber", 20, 2, 0, Some(100), Some(1)),
            item("not chosen", "", 10, 1, 0, None, None),
        ],
        by_unit: vec![unit("0304", &[(0, 5), (1, 10), (2, 10)]), unit("0305", &[(0, 5), (1, 10)])],
    }
}

/// 2 blinds of 110 x 83 1/2 in at 160.30 and one unpriced; screws; an hour of fitting at 45.00;
/// overhead 8 % and tax 8.25 %.
fn cost() -> Cost {
    const DIRECT: &[Section] = &[
        Section::Blinds,
        Section::Parts,
        Section::Making,
        Section::Fitting,
        Section::Survey,
        Section::Removal,
        Section::Delivery,
    ];
    let line = |section, item: &str, unit, quantity: Decimal, rate: Decimal, formula, amount: Decimal| CostLine {
        section,
        item: item.to_owned(),
        unit,
        basis: "per blind",
        quantity: Some(quantity),
        rate: Some(rate),
        formula,
        amount: Some(amount),
        taxable: true,
        rate_from: RateFrom::Example,
    };
    let two = |cents| Decimal::new(cents, 2);
    let lines = vec![
        line(Section::Blinds, "louver-89, 110 x 83 1/2 in", "each", Decimal::TWO, two(16030), AmountFormula::Product, two(32060)),
        line(Section::Parts, "wood screw 8 x 1 1/2", "pack", Decimal::ONE, two(600), AmountFormula::Product, two(600)),
        // 125 minutes at 45.00 an hour = 93.75.
        line(Section::Fitting, "fitting", "min", Decimal::from(125), two(4500), AmountFormula::MinutesAtHourlyRate, two(9375)),
        // 8 % of 320.60 + 6.00 + 93.75 = 420.35: 33.628, rounded 33.63.
        line(Section::Overhead, "overhead", "share of direct cost", two(42035), two(8), AmountFormula::ShareOf(DIRECT), two(3363)),
    ];
    // 453.98 and 8.25 % of it, 37.45335, rounded 37.45.
    Cost {
        lines,
        subtotal: two(45398),
        tax: Some(two(3745)),
        total: Some(two(49143)),
        not_in_total: vec![NotInTotal {
            what: "held openings".to_owned(),
            openings: vec![3],
            allowance: Some(two(16030)),
        }],
        breakdowns: vec![Breakdown {
            by: "Unit",
            rows: vec![("0304".to_owned(), 2, two(21018)), ("0305".to_owned(), 1, two(21017))],
        }],
    }
}

fn rules() -> Rules {
    Rules {
        project: Project {
            name: "Quay House & Mews".to_owned(),
            site: "4 Harbour Lane".to_owned(),
            client: "Harbour Homes".to_owned(),
            surveyed_by: String::new(),
            survey_date: None,
            revision: "B".to_owned(),
            units: Units::Inches,
            currency: Currency::USD,
            jurisdiction: Jurisdiction::Strictest,
            sizes_given: SizesGiven::Opening,
            floors_finished: FloorsFinished::Mixed,
            ceiling_height: None,
            built: None,
            tax: Decimal::new(825, 2),
            overhead: Decimal::from(8),
            profit: Decimal::ZERO,
            contingency: Decimal::ZERO,
            labour_rate: Decimal::from(45),
            spare_louvers: Decimal::TWO,
            spare_fixings: Decimal::TEN,
            need_by: None,
            cost_basis: CostBasis::Buy,
            stock_sizes: false,
            accept_less_cover: Length::ZERO,
            merge_sizes: None,
            order_date: None,
            tax_on: TaxOn::All,
        },
        products: vec![Product {
            name: "louver-89".into(),
            colours: vec!["white".into()],
            suits: Kind::ALL.to_vec(),
            family: Family::Louver(Box::new(louver_rules())),
        }],
        stock_sizes: vec![],
        bars: vec![],
        offcuts: vec![],
        fixings: vec![Fixing {
            item: "wood screw 8 x 1 1/2".into(),
            substrate: Substrate::Timber,
            diameter: None,
            length: None,
            thread: None,
            capacity: Capacity::TimberWithdrawal,
            pilot: Some(Length::sixty_fourths(6)),
            pack_of: 100,
            price: Some(Decimal::new(600, 2)),
        }],
        prices: PriceList::default(),
        rates: Rates::default(),
        used: vec![
            RuleUsed {
                table: "Products",
                item: "louver-89".to_owned(),
                rule: "Side clearance",
                value: "1/4 in".to_owned(),
                at: None,
                why: "a blind that just fits binds when the wall is not plumb".to_owned(),
            },
            RuleUsed {
                table: "Project",
                item: String::new(),
                rule: "Tax %",
                value: "8.25".to_owned(),
                at: None,
                why: String::new(),
            },
        ],
    }
}

/// The rules that no sheet shows are all one inch or 1: nothing here is worked out from them.
fn louver_rules() -> LouverRules {
    let inch = |key: &str| rule(Length::inches(1), key);
    let one = |key: &str| rule(Decimal::ONE, key);
    let material = |name: &str| -> Arc<str> { name.into() };
    LouverRules {
        louver_width: rule(eighths(28), "louver_width"),
        pitch: rule(eighths(25), "pitch"),
        least_width: inch("least_width"),
        most_width: inch("most_width"),
        least_drop: inch("least_drop"),
        most_drop: inch("most_drop"),
        rounding_step: rule(eighths(1), "rounding_step"),
        side_clearance: rule(eighths(2), "side_clearance"),
        inside_drop_clearance: inch("inside_drop_clearance"),
        louver_clearance: inch("louver_clearance"),
        half_headrail: inch("half_headrail"),
        spread_limit: inch("spread_limit"),
        small_spread_limit: inch("small_spread_limit"),
        small_opening_sq_ft: one("small_opening_sq_ft"),
        window_most_off: inch("window_most_off"),
        window_least_off: inch("window_least_off"),
        overlap_wanted: inch("overlap_wanted"),
        overlap_least: inch("overlap_least"),
        valance_past_rail: inch("valance_past_rail"),
        hand_room: inch("hand_room"),
        above_wanted: inch("above_wanted"),
        above_least: inch("above_least"),
        above_most: inch("above_most"),
        above_floor: inch("above_floor"),
        room_above: inch("room_above"),
        bracket_above_rail: inch("bracket_above_rail"),
        floor_gap: inch("floor_gap"),
        floor_gap_carpet: inch("floor_gap_carpet"),
        below_wanted: inch("below_wanted"),
        below_least: inch("below_least"),
        room_below: inch("room_below"),
        above_sill: inch("above_sill"),
        upper_screw: inch("upper_screw"),
        lower_screw: inch("lower_screw"),
        screw_edge: inch("screw_edge"),
        reaches: rule(vec![inches(3)], "reaches"),
        bracket_items: vec![material("bracket 3 in")],
        inside_bracket_item: material("inside bracket"),
        bracket_inset: inch("bracket_inset"),
        bracket_spacing: inch("bracket_spacing"),
        fixings_per_bracket: rule(2, "fixings_per_bracket"),
        louver_off_outside: inch("louver_off_outside"),
        louver_off_inside: inch("louver_off_inside"),
        end_cap: inch("end_cap"),
        rod_off: inch("rod_off"),
        wand_step: inch("wand_step"),
        wand_end_height: inch("wand_end_height"),
        stack_per_louver: inch("stack_per_louver"),
        stack_base: inch("stack_base"),
        return_beyond: inch("return_beyond"),
        clip_offset: inch("clip_offset"),
        fabric_mass: one("fabric_mass"),
        weight_mass: one("weight_mass"),
        carrier_mass: one("carrier_mass"),
        rail_mass: one("rail_mass"),
        valance_mass: one("valance_mass"),
        two_people_length: inch("two_people_length"),
        two_people_mass: one("two_people_mass"),
        least_spare_louvers: rule(2, "least_spare_louvers"),
        hem: inch("hem"),
        rail_material: material("rail"),
        rod_material: material("rod"),
        valance_material: material("valance"),
        louver_material: material("fabric-89"),
        tolerance: rule(Length::sixty_fourths(4), "tolerance"),
    }
}
