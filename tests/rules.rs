//! The rules: the built-in ones against the trade's numbers, the survey's own sheets over them,
//! and the blank workbook, which must read back as exactly the built-in rules.

use rust_decimal::Decimal;
use sillbook::grid::{self, Grid, Row, Sheet, Value};
use sillbook::length::{Length, Unit, Units};
use sillbook::place::Sheets;
use sillbook::query::{Checked, Query, Severity};
use sillbook::rules::columns::{
    bars, fixings, materials, offcuts, phases, prices, products, project, rates, stock_sizes,
};
use sillbook::rules::{
    self, Bar, BlindPrice, Capacity, Family, Fixing, LouverRules, PartPrice, Product, Rules, RulesError,
    StockName, StockSize,
};
use sillbook::schema::openings::OPENINGS;
use sillbook::survey::{self, Control, Draw, Kind, Substrate};
use sillbook::tables;
use sillbook::workbook::blank;

/// A sheet's rows, the first of them its headings.
type Rows<'t> = &'t [&'t [&'t str]];
/// Sheets of one survey, each with its name.
type Written<'t> = &'t [(&'t str, Rows<'t>)];

/// A survey as the cells that a file would give: text, or a number where the text is one.
fn grid(names: &mut Sheets, survey: &str, written: Written) -> Grid {
    names.next_file();
    let sheets = written.iter().map(|(name, rows)| {
        let rows = (0..).zip(*rows).map(|(row, texts)| {
            let cells = (0..).zip(*texts).filter(|(_, text)| !text.is_empty());
            Row { row, cells: cells.map(|(column, text)| (column, value(text))).collect() }
        });
        let id = names.enter(survey, name).expect("few sheets");
        Sheet {
            id,
            name: (*name).to_owned(),
            rows: rows.collect(),
            merged: Vec::new(),
            hidden: sillbook::grid::Hidden::default(),
        }
    });
    Grid { survey: survey.to_owned(), sheets: sheets.collect() }
}

fn value(text: &str) -> Value {
    match text.parse::<Decimal>() {
        Ok(number) => Value::Number(number),
        Err(_) if text.starts_with('#') => Value::Error(text.into()),
        Err(_) => Value::Text(text.into()),
    }
}

fn built_in(units: Units) -> Rules {
    let Checked { value, queries } = rules::build(&[], units.unit()).expect("the built-in rules hold");
    assert_eq!(queries, [], "the built-in rules raise nothing");
    value
}

/// Rules of one survey in inches that raises nothing.
fn read(written: Written) -> Rules {
    let (rules, queries) = shown(written);
    assert_eq!(queries, Vec::<String>::new());
    rules.expect("nothing stops the run")
}

/// Rules of one survey in inches, and its queries as `stop Bars!A2: message [hint] (detail)`.
fn shown(written: Written) -> (Option<Rules>, Vec<String>) {
    let mut names = Sheets::default();
    let grids = [grid(&mut names, "survey.xlsx", written)];
    outcome(&names, rules::build(&grids, Unit::Inch))
}

fn outcome(names: &Sheets, built: Result<Checked<Rules>, RulesError>) -> (Option<Rules>, Vec<String>) {
    let (rules, queries) = match built {
        Ok(Checked { value, queries }) => {
            assert!(queries.iter().all(|query| query.severity != Severity::Stop), "a stop stops the run");
            (Some(value), queries)
        }
        Err(RulesError::Sheets(queries)) => (None, queries),
        Err(error) => panic!("{error}"),
    };
    let show = |query: &Query| {
        let at = query.at.map_or("-".to_owned(), |at| names.show(at));
        format!("{} {at}: {} [{}] ({})", query.severity, query.message, query.hint, query.detail)
    };
    (rules, queries.iter().map(show).collect())
}

/// What one sheet raises.
fn raised(sheet: &str, rows: Rows) -> Vec<String> {
    shown(&[(sheet, rows)]).1
}

fn product<'r>(rules: &'r Rules, name: &str) -> &'r Product {
    rules.product(name).expect("a product of that name")
}

fn louver(product: &Product) -> &LouverRules {
    let Family::Louver(louver) = &product.family;
    louver
}

fn sixteenths(count: i64) -> Length {
    Length::sixty_fourths(4 * count)
}

fn money(text: &str) -> Option<Decimal> {
    Some(text.parse().expect("a number"))
}

#[test]
fn every_rule_of_the_schema_has_a_built_in_value() {
    // What a built-in row may leave blank: unknown, or not for that item.
    let may_be_blank: &[(&str, &[&str])] = &[
        ("Products", &["like"]),
        ("Stock sizes", &["colors", "draw", "control", "brackets", "cut_width_to", "cut_drop_to"]),
        ("Materials", &["like", "mass"]),
        ("Bars", &[]),
        ("Offcuts", &[]),
        ("Fixings", &["diameter", "length", "thread", "capacity", "source", "pilot"]),
        // What a motor costs is unknown until someone says.
        ("Prices", &["product", "least_m2", "lead_days", "pack_of", "price"]),
        ("Rates", &[]),
    ];
    let sheets = rules::built_in_sheets(Units::Inches).expect("the files hold");
    let names: Vec<&str> = sheets.iter().map(|sheet| sheet.table.sheet).collect();
    assert_eq!(names, may_be_blank.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    for (sheet, (name, allowed)) in sheets.iter().zip(may_be_blank) {
        for row in &sheet.rows {
            for column in sheet.table.offered().filter(|column| row[column.slot].is_empty()) {
                assert!(allowed.contains(&column.key), "{name}: {row:?} has no {}", column.key);
            }
        }
    }
    // 2 products, 3 stock sizes, 7 materials, 7 bars, no offcuts, 7 fixings, 2 + 15 prices, 10 rates.
    let rows: Vec<usize> = sheets.iter().map(|sheet| sheet.rows.len()).collect();
    assert_eq!(rows, [2, 3, 7, 7, 0, 7, 17, 10]);
}

#[test]
fn every_built_in_value_means_the_same_in_inches_and_in_millimeters() {
    let (inches, millimeters) = (built_in(Units::Inches), built_in(Units::Millimeters));
    for name in ["louver-89", "louver-127"] {
        let (a, mut b) = (product(&inches, name).clone(), product(&millimeters, name).clone());
        assert_eq!(
            (a.cover.rounding_step.value, b.cover.rounding_step.value),
            (sixteenths(2), Length::from_mm(1))
        );
        b.cover.rounding_step.value = a.cover.rounding_step.value;
        let Family::Louver(rules) = &mut b.family;
        assert_eq!(
            (louver(&a).wand_step.value, rules.wand_step.value),
            (Length::inches(12), Length::from_mm(300))
        );
        rules.wand_step.value = louver(&a).wand_step.value;
        assert_eq!(a, b);
    }
    assert_eq!(inches.materials, millimeters.materials);
    assert_eq!(inches.bars, millimeters.bars);
    assert_eq!(inches.fixings, millimeters.fixings);
    assert_eq!(inches.stock_sizes, millimeters.stock_sizes);
    // A wand is priced by the step that it comes in.
    let by_the_step = |rules: &Rules, step| {
        let mut prices = rules.prices.clone();
        let wand = prices.parts.iter_mut().find(|part| &*part.item == "wand").expect("a wand has a price");
        assert_eq!(wand.length.take(), Some(step));
        prices
    };
    assert_eq!(by_the_step(&inches, Length::inches(12)), by_the_step(&millimeters, Length::from_mm(300)));
    assert_eq!(inches.rates, millimeters.rates);
}

/// The trade's numbers, written out by hand; common practice, no source.
#[test]
fn the_built_in_products_are_the_trades() {
    let rules = built_in(Units::Inches);
    let names: Vec<&str> = rules.products.iter().map(|product| &*product.name).collect();
    assert_eq!(names, ["louver-89", "louver-127"]);
    let narrow = product(&rules, "louver-89");
    let lengths = [
        (&louver(narrow).louver_width, sixteenths(56), "3 1/2"),
        (&louver(narrow).pitch, sixteenths(50), "3 1/8"),
        (&narrow.cover.least_width, Length::inches(12), "12"),
        (&narrow.cover.most_width, Length::inches(192), "192"),
        (&narrow.cover.least_drop, Length::inches(12), "12"),
        (&narrow.cover.most_drop, Length::inches(144), "144"),
        (&narrow.cover.rounding_step, sixteenths(2), "1/8"),
        (&narrow.cover.side_clearance, sixteenths(4), "1/4"),
        (&narrow.cover.inside_drop_clearance, sixteenths(8), "1/2"),
        (&narrow.cover.louver_clearance, sixteenths(6), "3/8"),
        (&narrow.cover.half_headrail, sixteenths(14), "7/8"),
        (&narrow.cover.spread_limit, sixteenths(4), "1/4"),
        (&narrow.cover.small_spread_limit, sixteenths(2), "1/8"),
        (&narrow.cover.window_most_off, Length::inches(1), "1"),
        (&narrow.cover.window_least_off, sixteenths(8), "1/2"),
        (&narrow.cover.overlap_wanted, Length::inches(2), "2"),
        (&narrow.cover.overlap_least, Length::inches(1), "1"),
        (&narrow.cover.valance_past_rail, sixteenths(4), "1/4"),
        (&narrow.cover.hand_room, sixteenths(2), "1/8"),
        (&narrow.cover.above_wanted, Length::inches(6), "6"),
        (&narrow.cover.above_least, sixteenths(40), "2 1/2"),
        (&narrow.cover.above_most, Length::inches(12), "12"),
        (&narrow.cover.above_floor, sixteenths(36), "2 1/4"),
        (&narrow.cover.overlap_most, Length::inches(4), "4"),
        (&narrow.cover.bracket_foot, sixteenths(40), "2 1/2"),
        (&narrow.cover.casing_least, Length::inches(3), "3"),
        (&narrow.cover.casing_edge, sixteenths(8), "1/2"),
        (&narrow.cover.casing_thickness, sixteenths(10), "5/8"),
        (&narrow.cover.bracket_plate, sixteenths(1), "1/16"),
        (&narrow.cover.stud_inset_least, sixteenths(24), "1 1/2"),
        (&narrow.cover.stud_inset_most, Length::inches(12), "12"),
        (&narrow.cover.stud_span, Length::inches(34), "34"),
        (&narrow.cover.brackets_apart, Length::inches(6), "6"),
        (&narrow.cover.board_most, sixteenths(20), "1 1/4"),
        (&narrow.cover.steel_beyond, sixteenths(6), "3/8"),
        (&narrow.cover.two_people_height, Length::inches(120), "120"),
        (&narrow.cover.two_people_high_length, Length::inches(72), "72"),
        (&narrow.cover.room_above, sixteenths(12), "3/4"),
        (&narrow.cover.bracket_above_rail, sixteenths(4), "1/4"),
        (&narrow.cover.floor_gap, sixteenths(8), "1/2"),
        (&narrow.cover.floor_gap_carpet, sixteenths(12), "3/4"),
        (&narrow.cover.below_wanted, Length::inches(2), "2"),
        (&narrow.cover.below_least, Length::inches(1), "1"),
        (&narrow.cover.room_below, sixteenths(8), "1/2"),
        (&narrow.cover.above_sill, sixteenths(8), "1/2"),
        (&narrow.cover.upper_screw, sixteenths(8), "1/2"),
        (&narrow.cover.lower_screw, sixteenths(24), "1 1/2"),
        (&narrow.cover.screw_edge, sixteenths(12), "3/4"),
        (&narrow.cover.bracket_inset, Length::inches(4), "4"),
        (&narrow.cover.bracket_spacing, Length::inches(32), "32"),
        (&louver(narrow).louver_off_outside, sixteenths(24), "1 1/2"),
        (&louver(narrow).louver_off_inside, sixteenths(28), "1 3/4"),
        (&louver(narrow).end_cap, sixteenths(2), "1/8"),
        (&louver(narrow).rod_off, Length::inches(1), "1"),
        (&louver(narrow).wand_step, Length::inches(12), "12"),
        (&louver(narrow).wand_end_height, Length::inches(40), "40"),
        (&louver(narrow).wand_above_bottom, Length::inches(3), "3"),
        (&louver(narrow).wand_in_reach, Length::inches(66), "66"),
        (&louver(narrow).stack_per_louver, sixteenths(6), "3/8"),
        (&louver(narrow).stack_base, sixteenths(56), "3 1/2"),
        (&louver(narrow).return_beyond, sixteenths(4), "1/4"),
        (&louver(narrow).clip_offset, Length::inches(2), "2"),
        (&narrow.cover.two_people_length, Length::inches(96), "96"),
        (&louver(narrow).hem, Length::inches(2), "2"),
    ];
    for (rule, length, inches) in lengths {
        assert_eq!(rule.value, length, "{} is {inches} in", rule.name);
    }
    let numbers = [
        (&narrow.cover.small_opening_sq_ft, "20"),
        (&louver(narrow).louver_mass, "0.28"),
        (&louver(narrow).weight_mass, "0.060"),
        (&louver(narrow).carrier_mass, "0.012"),
        (&louver(narrow).rail_mass, "0.75"),
        (&louver(narrow).valance_mass, "0.35"),
        (&narrow.cover.motor_mass, "1.5"),
        (&narrow.cover.two_people_mass, "10"),
        (&narrow.cover.pull, "100"),
    ];
    for (rule, number) in numbers {
        assert_eq!(Some(rule.value), money(number), "{}", rule.name);
    }
    assert_eq!(narrow.cover.side_clearance.name, "louver-89.side_clearance");
    assert_eq!(narrow.cover.reaches.value, [Length::inches(3), sixteenths(72), Length::inches(6)]);
    let items: Vec<&str> = narrow.cover.bracket_items.iter().map(|item| &**item).collect();
    assert_eq!(items, ["bracket 3 in", "bracket 4 1/2 in", "bracket 6 in"]);
    assert_eq!(&*narrow.cover.inside_bracket_item, "inside bracket");
    assert_eq!((narrow.cover.fixings_per_bracket.value, louver(narrow).least_spare_louvers.value), (2, 2));
    assert_eq!(&*narrow.colors[0], "white");
    assert_eq!(narrow.suits, [Kind::PatioDoor, Kind::Door, Kind::Window]);

    let wide = product(&rules, "louver-127");
    assert_eq!(
        (louver(wide).louver_width.value, louver(wide).pitch.value),
        (Length::inches(5), sixteenths(72))
    );
    assert_eq!((&*louver(wide).louver_material, &*louver(wide).rail_material), ("fabric-127", "rail"));
    assert_eq!(wide.cover.side_clearance.name, "louver-127.side_clearance");
    assert_eq!(wide.cover.side_clearance.value, narrow.cover.side_clearance.value);
}

/// Lengths, kerf, trim and least offcut are common practice, no source; prices are invented.
#[test]
fn the_built_in_materials_bars_and_fixings_are_the_trades() {
    let rules = built_in(Units::Inches);
    let materials: Vec<_> = rules
        .materials
        .iter()
        .map(|material| {
            assert_eq!((material.trim, material.least_useful), (Length::from_mm(10), Length::from_mm(600)));
            (&*material.name, material.stock_name, material.kerf, material.colored)
        })
        .collect();
    let (saw, blade) = (Length::from_mm(3), Length::ZERO);
    assert_eq!(
        materials,
        [
            ("rail", StockName::Bar, saw, true),
            ("rod", StockName::Bar, saw, false),
            ("valance", StockName::Bar, saw, true),
            ("fabric-89", StockName::Roll, blade, true),
            ("fabric-127", StockName::Roll, blade, true),
            ("pvc-89", StockName::Length, saw, true),
            ("pvc-127", StockName::Length, saw, true),
        ]
    );
    let bars: Vec<_> = rules
        .bars
        .iter()
        .map(|bar| {
            assert!(bar.example);
            (&*bar.material, bar.length, bar.price)
        })
        .collect();
    assert_eq!(
        bars,
        [
            ("rail", Length::from_mm(5_800), money("26")),
            ("rod", Length::from_mm(5_800), money("9")),
            ("valance", Length::from_mm(5_800), money("14")),
            ("fabric-89", Length::from_mm(100_000), money("95")),
            ("fabric-127", Length::from_mm(100_000), money("130")),
            ("pvc-89", Length::from_mm(4_000), money("5.20")),
            ("pvc-127", Length::from_mm(4_000), money("7")),
        ]
    );
    assert_eq!(rules.offcuts, []);

    let fixings: Vec<_> = rules
        .fixings
        .iter()
        .map(|fixing| {
            assert!(fixing.example);
            (&*fixing.item, fixing.substrate, fixing.capacity.clone(), fixing.pack_of, fixing.price)
        })
        .collect();
    // The design thickness of 33 mil is 0.0346 in (AISI S220, from memory).
    let (wood, steel) = (Capacity::WoodWithdrawal, Capacity::SteelPullOut(Length::from_nm(878_840)));
    // 30 lbf x 4.448 221 615 260 5 N (NIST SP 811, B.8).
    let toggle = Capacity::WorkingLoad("133.446648457815".parse().expect("a number"));
    assert_eq!(
        fixings,
        [
            ("wood screw 8 x 1 1/2", Substrate::Wood, wood.clone(), 100, money("6")),
            ("wood screw 8 x 1 3/4", Substrate::Wood, wood.clone(), 100, money("7")),
            ("wood screw 10 x 2 1/2", Substrate::Wood, wood, 100, money("11")),
            ("steel-stud screw 8 x 1 5/8", Substrate::Steel, steel, 100, money("8")),
            ("toggle 1/8", Substrate::Drywall, toggle, 20, money("9")),
            ("concrete screw 1/4 x 1 3/4", Substrate::Concrete, Capacity::Unknown, 100, money("24")),
            ("plug and screw 8 x 1 1/2", Substrate::Masonry, Capacity::Unknown, 100, money("9")),
        ]
    );
    // 0.164 in and 0.190 in (ASME B18.6.1, from memory), to the nanometer; 1 1/6 in is
    // 29,633,333 1/3 nm, 1 2/3 in 42,333,333 1/3.
    let nm = |length: Option<Length>| length.map(Length::nm);
    let screws: Vec<_> = rules.fixings[..3]
        .iter()
        .map(|screw| (nm(screw.diameter), nm(screw.thread), nm(screw.pilot)))
        .collect();
    assert_eq!(
        screws,
        [
            (Some(4_165_600), Some(25_400_000), Some(25_400_000 * 3 / 32)),
            (Some(4_165_600), Some(29_633_333), Some(25_400_000 * 3 / 32)),
            (Some(4_826_000), Some(42_333_333), Some(25_400_000 / 8)),
        ]
    );
}

#[test]
fn the_built_in_prices_and_rates_are_the_trades() {
    let rules = built_in(Units::Inches);
    let [blind] = &rules.prices.blinds[..] else { panic!("one price for every blind") };
    assert_eq!((blind.each, blind.per_m2, Some(blind.least_m2)), (money("30"), money("22"), money("1.5")));
    assert_eq!((&blind.product, blind.lead_days, blind.example), (&None, Some(15), true));
    let parts: Vec<_> = rules
        .prices
        .parts
        .iter()
        .map(|part| {
            assert_eq!(part.example, part.each.is_some(), "{}", part.item);
            (&*part.item, part.each, part.pack_of)
        })
        .collect();
    assert_eq!(
        parts,
        [
            ("bracket 3 in", money("1.80"), 10),
            ("bracket 4 1/2 in", money("2.40"), 10),
            ("bracket 6 in", money("3.00"), 10),
            ("inside bracket", money("1.20"), 10),
            ("valance clip", money("0.35"), 20),
            ("carrier", money("0.30"), 100),
            ("hanger", money("0.12"), 100),
            ("bottom weight", money("0.25"), 100),
            ("spacer link", money("0.04"), 100),
            ("end cap", money("0.40"), 10),
            ("corner piece", money("0.90"), 10),
            ("wand", money("1.50"), 1),
            ("packer", money("0.10"), 50),
            ("spare louver", money("3.50"), 1),
            ("motor", None, 1),
        ]
    );

    let rates = &rules.rates;
    let minutes = [rates.survey_minutes, rates.making_minutes, rates.fitting_minutes];
    assert_eq!(minutes, [money("5"), money("25"), money("30")]);
    assert_eq!([rates.hard_bracket_minutes, rates.unit_minutes], [money("8"), money("8")]);
    assert_eq!([rates.removal, rates.delivery, rates.size_set_up], [money("0"), money("90"), money("0")]);

    let sizes: Vec<_> = rules
        .stock_sizes
        .iter()
        .map(|size| {
            assert_eq!((size.width, size.drop), (size.nominal_width, size.nominal_drop));
            assert_eq!((size.lead_days, size.on_hand, size.example), (Some(0), 10, true));
            assert_eq!((size.cut_width_to, size.cut_drop_to), (None, None));
            (&*size.product, size.width, size.drop, size.price)
        })
        .collect();
    let drop = Length::inches(84);
    assert_eq!(
        sizes,
        [
            ("louver-89", Length::inches(66), drop, money("36")),
            ("louver-89", Length::inches(78), drop, money("42")),
            ("louver-89", Length::inches(104), drop, money("54")),
        ]
    );
}

#[test]
fn every_blank_of_the_project_that_means_something_is_an_assumption() {
    let assumed = |rules: &Rules| -> Vec<(&str, String)> {
        rules.assumptions.iter().map(|assumed| (assumed.column.name, assumed.value.clone())).collect()
    };
    let all = [
        ("Revision", "1"),
        ("Currency", "USD"),
        ("Jurisdiction", "the strictest rules"),
        ("Sizes given are", "opening"),
        ("Floors finished", "mixed"),
        ("Tax %", "0 %"),
        ("Overhead %", "0 %"),
        ("Profit %", "0 %"),
        ("Contingency %", "0 %"),
        ("Labor rate", "45.00"),
        ("Spare louvers %", "2 %"),
        ("Spare fixings %", "10 %"),
        ("Spare parts %", "2 %"),
        ("Cost basis", "buy"),
        ("Stock sizes", "no"),
        ("Accept less cover", "0"),
        ("Merge sizes", "no"),
        ("Work days", "Mon-Fri"),
        ("Cut by phase", "no"),
        ("Tax on", "all"),
    ]
    .map(|(column, value)| (column, value.to_owned()));
    assert_eq!(assumed(&built_in(Units::Inches)), all);

    let rules = read(&[(
        "Project",
        &[&["Item", "Value"], &["Currency", "eur"], &["Tax %", "8.25 %"], &["Jurisdiction", "EU"]],
    )]);
    assert_eq!(assumed(&rules).len(), all.len() - 3);
    assert_eq!((rules.project.currency.code(), Some(rules.project.tax)), ("EUR", money("8.25")));
    assert_eq!(rules.source("Project", "", "Labor rate").map(|used| used.example), Some(true));
    assert_eq!(rules.source("Project", "", "Currency").map(|used| used.at.is_some()), Some(true));
}

#[test]
fn products_go_field_by_field() {
    let rules = read(&[(
        "Products",
        &[
            &["Product", "Side clearance", "Colors"],
            &["Louver-89", "3/8 in", ""],
            &["louver-127", "", "Ivory, Slate"],
        ],
    )]);
    let before = built_in(Units::Inches);
    let mut expected = product(&before, "louver-89").clone();
    expected.cover.side_clearance.value = sixteenths(6);
    assert_eq!(product(&rules, "louver-89"), &expected);
    // The other product keeps its own clearance: it is not the one that was changed.
    let rules_of = |rules: &Rules| {
        (product(rules, "louver-127").cover.clone(), product(rules, "louver-127").family.clone())
    };
    assert_eq!(rules_of(&rules), rules_of(&before));
    let colors: Vec<&str> = rules.products[1].colors.iter().map(|color| &**color).collect();
    assert_eq!(colors, ["Ivory", "Slate"]);
    let used = rules.source("Products", "louver-89", "Side clearance").expect("listed");
    assert_eq!((used.value.as_str(), used.at.is_some(), used.why.as_str()), ("3/8 in", true, ""));
    let used = rules.source("Products", "louver-89", "Pitch").expect("listed");
    assert_eq!((used.value.as_str(), used.at), ("3 1/8 in", None));
    assert!(used.why.contains("common practice, no source"));
}

#[test]
fn a_new_product_starts_from_the_one_it_is_like() {
    let rules = read(&[(
        "Products",
        &[
            &["Product", "Like", "Side clearance", "Louver material", "Hem"],
            &["louver-89", "", "3/8 in", "", ""],
            &["plain-89", "louver-89", "", "pvc-89", "0"],
        ],
    )]);
    let names: Vec<&str> = rules.products.iter().map(|product| &*product.name).collect();
    assert_eq!(names, ["louver-89", "louver-127", "plain-89"]);
    let plain = product(&rules, "plain-89");
    // It starts from louver-89 as this survey has it, not as it is built in.
    assert_eq!(plain.cover.side_clearance.value, sixteenths(6));
    assert_eq!((&*louver(plain).louver_material, louver(plain).hem.value), ("pvc-89", Length::ZERO));
    assert_eq!(louver(plain).pitch.name, "plain-89.pitch");
}

#[test]
fn rates_go_field_by_field() {
    let rules =
        read(&[("Rates", &[&["Item", "Rate", "Unit"], &["Delivery", "120", ""], &["making", "", ""]])]);
    assert_eq!((rules.rates.delivery, rules.rates.making_minutes), (money("120"), money("25")));
    let example = |rules: &Rules| rules.source("Rates", "delivery", "Rate").map(|used| used.example);
    assert_eq!((example(&rules), example(&built_in(Units::Inches))), (Some(false), Some(true)));
}

#[test]
fn a_list_is_replaced_as_a_whole() {
    let rules = read(&[
        (
            "Bars",
            &[
                &["Material", "Length", "Price"],
                &["Rail", "6 m", "30"],
                &["rail", "4 m", "22"],
                &["rod", "6 m", ""],
                &["valance", "6 m", "9"],
                &["fabric-89", "50 m", "60"],
                &["fabric-127", "50 m", "70"],
            ],
        ),
        (
            "Fixings",
            &[
                &["Item", "Substrate", "Capacity", "Pack of", "Price"],
                &["long plug", "masonry", "133 N", "50", "7.50"],
            ],
        ),
        (
            "Offcuts",
            &[
                &["Material", "Color", "Length", "Quantity"],
                &["rail", "white", "900 mm", "3"],
                &["rod", "", "1 m", ""],
            ],
        ),
    ]);
    // A material is spelled as it is known; what the list no longer says is the material's.
    let rail = &rules.bars[0];
    assert_eq!((&*rail.material, rail.length, rail.price), ("rail", Length::from_mm(6_000), money("30")));
    assert_eq!(rules.materials, built_in(Units::Inches).materials);
    assert_eq!((rules.bars.len(), rules.bars[2].price, rail.example), (6, None, false));
    let [plug] = &rules.fixings[..] else { panic!("one fixing") };
    let load = Capacity::WorkingLoad(Decimal::from(133));
    assert_eq!((&plug.capacity, plug.pack_of, plug.example), (&load, 50, false));
    let offcuts: Vec<_> = rules
        .offcuts
        .iter()
        .map(|offcut| (&*offcut.material, &*offcut.color, offcut.length, offcut.quantity))
        .collect();
    let lengths = (Length::from_mm(900), Length::from_mm(1_000));
    assert_eq!(offcuts, [("rail", "white", lengths.0, 3), ("rod", "", lengths.1, 1)]);
    // What no sheet lists is still the built-in list.
    assert_eq!(rules.prices, built_in(Units::Inches).prices);
}

#[test]
fn prices_and_stock_sizes_are_replaced_as_a_whole() {
    let rules = read(&[
        (
            "Prices",
            &[
                &["Item", "Product", "Price", "Per", "Minimum m2", "Lead days", "Pack of"],
                &["made-to-measure blind", "", "40", "each", "", "10", ""],
                &["made-to-measure blind", "louver-127", "55", "m2", "2", "12", ""],
                &["Carrier", "", "0.20", "", "", "", "50"],
                &["wand", "", "1", "", "", "", ""],
            ],
        ),
        (
            "Stock sizes",
            &[
                &["Product", "Nominal width", "Nominal drop", "Actual width", "Price", "On hand"],
                &["louver-89", "66", "84", "65 1/2", "36", "4"],
            ],
        ),
    ]);
    // The price for one product comes first; a row that is not there charges nothing.
    let blinds: Vec<_> = rules
        .prices
        .blinds
        .iter()
        .map(|blind| (blind.product.as_deref(), blind.each, blind.per_m2, blind.lead_days))
        .collect();
    assert_eq!(
        blinds,
        [(Some("louver-127"), money("0"), money("55"), Some(12)), (None, money("40"), money("0"), Some(10)),]
    );
    let parts: Vec<_> =
        rules.prices.parts.iter().map(|part| (&*part.item, part.each, part.pack_of)).collect();
    assert_eq!(parts, [("carrier", money("0.20"), 50), ("wand", money("1"), 1)]);
    let [size] = &rules.stock_sizes[..] else { panic!("one size") };
    assert_eq!((size.nominal_width, size.width), (Length::inches(66), sixteenths(1_048)));
    assert_eq!((size.nominal_drop, size.drop), (Length::inches(84), Length::inches(84)));
    assert_eq!((size.lead_days, size.on_hand), (None, 4));
}

#[test]
fn a_shelf_box_is_what_its_row_says() {
    let sizes = |contents: [&str; 4]| {
        let headings =
            ["Product", "Nominal width", "Nominal drop", "On hand", "Colors", "Draw", "Control", "Brackets"];
        let row = [&["louver-89", "66", "84", "1"][..], &contents].concat();
        let rules = read(&[
            ("Products", &[&["Product", "Colors"], &["louver-89", "Ivory, Slate"]]),
            ("Stock sizes", &[&headings, &row]),
        ]);
        let StockSize { colors, draw, control, brackets, .. } = rules.stock_sizes[0].clone();
        (colors.join("+"), draw, control, brackets.join("+"))
    };
    // Blank: the product's first color, one way either hand, a wand, the shortest wall bracket.
    let blank = ("Ivory".to_owned(), None, Control::Wand, "bracket 3 in".to_owned());
    assert_eq!(sizes(["", "", "", ""]), blank);
    let said = sizes(["slate, ivory", "split", "cord", "Inside bracket, bracket 6 in"]);
    let expected =
        ("Slate+Ivory".to_owned(), Some(Draw::Split), Control::Cord, "inside bracket+bracket 6 in".into());
    assert_eq!(said, expected);
    assert_eq!(sizes(["", "left", "", "none"]).3, "");
    let unreadable = raised(
        "Stock sizes",
        &[
            &["Product", "Nominal width", "Nominal drop", "On hand", "Draw"],
            &["louver-89", "66", "84", "1", "up"],
        ],
    );
    assert!(unreadable.len() == 1 && unreadable[0].starts_with("stop Stock sizes!E2"), "{unreadable:#?}");
}

#[test]
fn an_example_price_is_one_until_it_or_its_mark_is_changed() {
    let mark = "example price, not a quote";
    let carrier = |price, note| {
        let rules = read(&[("Prices", &[&["Item", "Price", "Note"], &["carrier", price, note]])]);
        rules.prices.parts[0].example
    };
    assert_eq!((carrier("0.30", mark), carrier("0.31", mark), carrier("0.30", "")), (true, false, false));
    let delivery = |price, note| {
        let rules = read(&[("Rates", &[&["Item", "Rate", "Note"], &["delivery", price, note]])]);
        rules.source("Rates", "delivery", "Rate").map(|used| used.example)
    };
    let delivered = (delivery("90", mark), delivery("80", mark), delivery("90", ""));
    assert_eq!(delivered, (Some(true), Some(false), Some(false)));
}

#[test]
fn an_unreadable_rule_never_turns_into_the_default() {
    // Sheet, rows, severity and place of each query.
    let cases: &[(&str, Rows, &[&str])] = &[
        // Rules that decide sizes, and the project's items, stop the run: every one of them.
        ("Products", &[&["Product", "Side clearance"], &["louver-89", "a bit"]], &["stop Products!B2"]),
        ("Products", &[&["Product", "Side clearance"], &["louver-89", "#REF!"]], &["stop Products!B2"]),
        (
            "Products",
            &[&["Product", "Pitch", "Side clearance"], &["louver-89", "big", "-1/4"]],
            &["stop Products!B2", "stop Products!C2"],
        ),
        (
            "Products",
            &[&["Product", "Bracket reaches"], &["louver-89", "3 in, far, 6 in"]],
            &["stop Products!B2"],
        ),
        ("Products", &[&["Product", "Rounding step"], &["louver-89", "0"]], &["stop Products!B2"]),
        ("Products", &[&["Product", "Suits"], &["louver-89", "hatch"]], &["stop Products!B2"]),
        ("Project", &[&["Item", "Value"], &["Tax %", "some"]], &["stop Project!B2"]),
        ("Project", &[&["Item", "Value"], &["Cost basis", "rent"]], &["stop Project!B2"]),
        ("Project", &[&["Item", "Value"], &["Currency", "dollars"]], &["stop Project!B2"]),
        ("Project", &[&["Item", "Value"], &["Labor rate", "#VALUE!"]], &["stop Project!B2"]),
        ("Bars", &[&["Material", "Length", "Kerf"], &["rail", "6 m", "thin"]], &["stop Bars!C2"]),
        ("Fixings", &[&["Item", "Substrate"], &["peg", "cheese"]], &["stop Fixings!B2"]),
        ("Bars", &[&["things", "to", "saw"], &["rail", "6 m"]], &["stop Bars!A1"]),
        ("Prices", &[&["Item", "Price"], &["carrier", "-1"]], &["stop Prices!B2"]),
        // What may be unknown is unknown, with a check.
        ("Project", &[&["Item", "Value"], &["Need by", "soon"]], &["check Project!B2"]),
        ("Project", &[&["Item", "Value"], &["Ceiling height", "high"]], &["check Project!B2"]),
        ("Project", &[&["Item", "Value"], &["Jurisdiction", "Atlantis"]], &["check Project!B2"]),
        ("Prices", &[&["Item", "Price"], &["carrier", "ask"]], &["check Prices!B2"]),
        ("Prices", &[&["Item", "Price", "Per"], &["carrier", "1", "dozen"]], &["check Prices!C2"]),
        ("Rates", &[&["Item", "Rate"], &["survey", "quick"]], &["check Rates!B2"]),
        ("Fixings", &[&["Item", "Substrate", "Capacity"], &["peg", "wood", "strong"]], &["check Fixings!C2"]),
        // The withdrawal formula needs diameter and thread.
        ("Fixings", &[&["Item", "Substrate", "Capacity"], &["peg", "wood", "NDS"]], &["check Fixings!C2"]),
    ];
    for (sheet, rows, expected) in cases {
        let raised = raised(sheet, rows);
        // A list of one bar lacks other materials; that is tested below.
        let places: Vec<&str> = raised
            .iter()
            .filter(|query| !query.contains("a material is not listed in Bars"))
            .filter_map(|query| query.split(": ").next())
            .collect();
        assert_eq!(&places, expected, "{sheet} {rows:?} raised {raised:#?}");
    }
}

#[test]
fn an_unreadable_price_is_unknown_and_never_nothing() {
    let (rules, queries) = shown(&[
        (
            "Prices",
            &[
                &["Item", "Price", "Per"],
                &["carrier", "ask", ""],
                &["made-to-measure blind", "ask", "m2"],
                &["hanger", "1", "m2"],
            ],
        ),
        (
            "Rates",
            &[&["Item", "Rate", "Unit"], &["survey", "quick", ""], &["making", "0.5", "hours per blind"]],
        ),
    ]);
    let rules = rules.expect("checks alone");
    assert_eq!(queries.len(), 5, "{queries:#?}");
    assert_eq!(rules.prices.blinds[0].per_m2, None);
    assert_eq!(rules.prices.parts[0].each, None);
    assert_eq!(rules.prices.parts[1].each, None, "a hanger is not priced by area");
    assert_eq!((rules.rates.survey_minutes, rules.rates.making_minutes), (None, None));
}

#[test]
fn a_name_that_is_not_known_is_shown_with_the_nearest() {
    let unknown_product = |sheet: &str, cell: &str| {
        format!(
            "check {sheet}!{cell}: a row of {sheet} names an unknown product; the row is ignored \
             [did you mean \"louver-89\"?] (louver-98)"
        )
    };
    let cases: &[(&str, Rows, String)] = &[
        (
            "Products",
            &[&["Product", "Sid clearance"], &["louver-89", "1/4 in"]],
            "check Products!B1: unknown heading on Products; its column is ignored \
             [did you mean \"Side clearance\"?] (Sid clearance)"
                .to_owned(),
        ),
        (
            "Products",
            &[&["Product", "Shade"], &["louver-89", "dark"]],
            "check Products!B1: unknown heading on Products; its column is ignored \
             [use the heading from a blank survey, or delete the column] (Shade)"
                .to_owned(),
        ),
        (
            "Products",
            &[&["Product", "Side clearance"], &["louver-98", "1/4 in"]],
            "check Products!A2: a product is not built in and has nothing under Like; its row is ignored \
             [for a new product fill in Like; or did you mean \"louver-89\"?] (louver-98)"
                .to_owned(),
        ),
        ("Products", &[&["Product", "Like"], &["mine", "louver-98"]], unknown_product("Products", "B2")),
        (
            "Rates",
            &[&["Item", "Rate"], &["delivry", "1"]],
            "check Rates!A2: unknown item on Rates [did you mean \"delivery\"?] (delivry)".to_owned(),
        ),
        (
            "Rates",
            &[&["Item", "Rate", "Unit"], &["survey", "1", "h per opening"]],
            "check Rates!C2: the unit of a rate does not match its item; the rate is treated as unknown \
             [enter the rate in min per opening] (survey)"
                .to_owned(),
        ),
        (
            "Prices",
            &[&["Item", "Price"], &["carier", "1"]],
            "check Prices!A2: unknown item on Prices [did you mean \"carrier\"?] (carier)".to_owned(),
        ),
        (
            "Prices",
            &[&["Item", "Price", "Product"], &["made-to-measure blind", "1", "louver-98"]],
            unknown_product("Prices", "C2"),
        ),
        (
            "Offcuts",
            &[&["Material", "Length"], &["rial", "1 m"]],
            "check Offcuts!A2: a material is not listed in Bars [did you mean \"rail\"?] (rial)".to_owned(),
        ),
        (
            "Offcuts",
            &[&["Material", "Length"], &["rail", "1 m"]],
            "check Offcuts!A2: an offcut of a colored material has no color; it is ignored \
             [fill in Color, as the product lists it] (rail)"
                .to_owned(),
        ),
        (
            "Stock sizes",
            &[&["Product", "Nominal width", "Nominal drop", "On hand"], &["louver-98", "66", "84", "1"]],
            unknown_product("Stock sizes", "A2"),
        ),
        (
            "Stock sizes",
            &[
                &["Product", "Nominal width", "Nominal drop", "On hand", "Colors"],
                &["louver-89", "66", "84", "1", "whit"],
            ],
            "check Stock sizes!E2: a stock size has a color that its product does not come in \
             [did you mean \"white\"?] (whit)"
                .to_owned(),
        ),
        (
            "Stock sizes",
            &[&["Product", "Nominal width", "Nominal drop"], &["louver-89", "66", "84"]],
            "check Stock sizes!A2: the quantity on hand of a stock size is unknown; none is used \
             [fill in On hand] (louver-89)"
                .to_owned(),
        ),
        (
            "Stock sizes",
            &[&["Product", "Nominal width", "On hand"], &["louver-89", "66", "4"]],
            "check Stock sizes!A2: a row of Stock sizes has no Nominal drop, so it is ignored \
             [fill in Nominal drop, or delete the row] (louver-89)"
                .to_owned(),
        ),
    ];
    for (sheet, rows, expected) in cases {
        assert_eq!(raised(sheet, rows), [expected.as_str()]);
    }
}

#[test]
fn a_material_without_a_bar_and_a_bar_without_a_use_are_checks() {
    let all: Rows = &[
        &["Material", "Length"],
        &["rod", "6 m"],
        &["rail", "6 m"],
        &["valance", "6 m"],
        &["fabric-89", "6 m"],
        &["fabric-127", "6 m"],
    ];
    assert_eq!(raised("Bars", all), Vec::<String>::new());
    let without_the_last = raised("Bars", &all[..5]);
    let expected = "check -: a material is not listed in Bars [check its spelling] (louver-127: fabric-127)";
    assert_eq!(without_the_last, [expected]);
    let with_one_more = [all, &[&["rial", "6 m"]]].concat();
    let expected = "check Bars!A7: no product uses a material listed in Bars [did you mean \"rail\"?] (rial)";
    assert_eq!(raised("Bars", &with_one_more), [expected]);
}

/// Each rule that contradicts another, and the nearest that does not.
#[test]
fn rules_that_contradict_one_another_stop_the_run() {
    let cases = [
        ("Minimum width", "193", "192"),
        ("Maximum width", "11", "12"),
        ("Minimum drop", "145", "144"),
        ("Pitch", "3 9/16", "3 1/2"),
        ("Minimum overlap", "2 1/16", "2"),
        ("Preferred overlap", "15/16", "1"),
        ("Minimum height above head", "6 1/16", "6"),
        ("Maximum height above head", "5 15/16", "6"),
        ("Minimum above head, drop wanted", "2 9/16", "2 1/2"),
        ("Minimum overlap below", "2 1/16", "2"),
        ("Minimum inside deduction", "1 1/16", "1"),
        ("Bracket top to upper screw", "1 1/2", "1 7/16"),
        ("Bracket top to lower screw", "1/2", "9/16"),
        ("Tilt rod deduction", "12", "11 15/16"),
        ("Louver deduction, outside", "12", "11 15/16"),
        ("Louver deduction, inside", "12", "11 15/16"),
        ("End cap", "6", "5 15/16"),
        ("Bracket reaches", "3 in, 6 in, 4 1/2 in", "3 in, 4 1/2 in, 7 in"),
        ("Bracket reaches", "3 in, 3 in, 6 in", "2 in, 3 in, 6 in"),
        ("Bracket items", "bracket 3 in, bracket 6 in", "bracket 3 in, bracket 6 in, inside bracket"),
    ];
    for (rule, bad, good) in cases {
        let queries = raised("Products", &[&["Product", rule], &["louver-89", bad]]);
        assert_eq!(queries.len(), 1, "{rule} {bad} raised {queries:#?}");
        assert!(queries[0].starts_with("stop Products!B2: "), "{queries:#?}");
        let queries = raised("Products", &[&["Product", rule], &["louver-89", good]]);
        assert_eq!(queries, Vec::<String>::new(), "{rule} {good}");
    }
    let most = raised("Products", &[&["Product", "Maximum width"], &["louver-89", "11"]]);
    let expected = "stop Products!B2: Minimum width must not be more than Maximum width \
                    [lower Minimum width, or raise Maximum width] (louver-89: 12 in, 11)";
    assert_eq!(most[0].replace("11 in", "11"), expected);
}

#[test]
fn brackets_nearer_to_each_other_than_a_bracket_is_wide_stop_the_run() {
    for column in ["Bracket spacing", "Maximum bracket spacing on studs"] {
        for spacing in ["10 mm", "99.999999 mm"] {
            let raised = raised("Products", &[&["Product", column], &["louver-89", spacing]]);
            let says = format!("{column} must be from 100 mm to 30000 mm");
            assert!(raised.iter().any(|query| query.contains(&says)), "{raised:?}");
        }
    }
}

#[test]
fn lists_that_contradict_themselves_stop_the_run() {
    let stops = |sheet: &str, rows: Rows| -> Vec<String> {
        raised(sheet, rows).into_iter().filter(|query| query.starts_with("stop")).collect()
    };
    // Two trims of 500 mm are the whole of 1 m.
    let bar = |trim| stops("Bars", &[&["Material", "Length", "End trim"], &["rail", "1 m", trim]]);
    let expected = "stop Bars!B2: a bar is no longer than its two end trims together \
         [check Length in Bars, and End trim in Materials] (rail)";
    assert_eq!(bar("500 mm"), [expected]);
    assert_eq!(bar("499 mm"), Vec::<String>::new());

    // The same bar twice, each at a price of its own: which of them holds?
    let twice = |length| {
        let rows: Rows = &[
            &["Material", "Length", "Price"],
            &["rail", "5.8 m", "26"],
            &["rail", "4 m", "19"],
            &["RAIL", length, "24"],
        ];
        stops("Bars", rows)
    };
    assert_eq!(
        twice("5800 mm"),
        ["stop Bars!A4: a row of Bars repeats a row above it [keep one of them] (rail, 5800 mm)"]
    );
    assert_eq!(twice("5801 mm"), Vec::<String>::new());

    let two = |kerf| {
        let rows: Rows = &[&["Material", "Length", "Kerf"], &["rail", "6 m", "3 mm"], &["rail", "4 m", kerf]];
        stops("Bars", rows)
    };
    let advice = "bars of one material differ in Kerf [use one Kerf for all bars of the material]";
    let expected =
        [format!("stop Bars!C2: {advice} (rail: 3 mm)"), format!("stop Bars!C3: {advice} (rail: 4 mm)")];
    assert_eq!(two("4 mm"), expected);
    assert_eq!(two("0.3 cm"), Vec::<String>::new());

    let cut = |width| {
        let headings = ["Product", "Nominal width", "Nominal drop", "On hand", "Minimum cut-down width"];
        stops("Stock sizes", &[&headings, &["louver-89", "66", "84", "1", width]])
    };
    assert_eq!((cut("66 1/8").len(), cut("66").len()), (1, 0));

    let repeated: [(&str, Rows); 4] = [
        ("Products", &[&["Product"], &["louver-89"], &["LOUVER-89"]]),
        ("Rates", &[&["Item", "Rate"], &["survey", "1"], &["survey", "2"]]),
        ("Prices", &[&["Item", "Price"], &["carrier", "1"], &["carrier", "2"]]),
        ("Fixings", &[&["Item", "Substrate"], &["peg", "wood"], &["peg", "steel"]]),
    ];
    for (sheet, rows) in repeated {
        let queries = raised(sheet, rows);
        assert_eq!(queries.len(), 1, "{queries:#?}");
        let expected = format!("stop {sheet}!A3: a row of {sheet} repeats a row above it");
        assert!(queries[0].starts_with(&expected), "{queries:#?}");
    }
}

#[test]
fn a_discount_is_a_percentage_however_it_is_typed() {
    let rows =
        |typed: &str| [["Item", "Rate"].map(str::to_owned), ["discount on blinds", typed].map(str::to_owned)];
    let outcome = |typed: &str| {
        let rows = rows(typed);
        let texts: Vec<Vec<&str>> = rows.iter().map(|row| row.iter().map(String::as_str).collect()).collect();
        let texts: Vec<&[&str]> = texts.iter().map(Vec::as_slice).collect();
        let (rules, queries) = shown(&[("Rates", &texts)]);
        (rules.expect("nothing stops the run").rates.discount, queries)
    };
    for (typed, percent) in [("5", "5"), ("5 %", "5"), ("7.25 %", "7.25"), ("0", "0"), ("100", "100")] {
        assert_eq!(outcome(typed), (money(percent), Vec::new()), "{typed}");
    }
    // A share without its sign is asked about; what cannot be is unknown.
    let (discount, queries) = outcome("0.05");
    assert_eq!((discount, queries.len()), (money("0.05"), 1));
    assert!(queries[0].starts_with("check Rates!B2: Rate (Rates) is less than 1 percent"), "{queries:?}");
    for typed in ["to be asked", "101"] {
        let (discount, queries) = outcome(typed);
        assert_eq!((discount, queries.len()), (None, 1), "{typed}: {queries:?}");
    }
}

#[test]
fn a_saw_that_takes_nothing_is_a_saw() {
    let rules = read(&[(
        "Bars",
        &[
            &["Material", "Length", "Kerf", "End trim"],
            &["rail", "4 m", "0", "0"],
            &["rod", "4 m"],
            &["valance", "4 m"],
            &["fabric-89", "90 m"],
            &["fabric-127", "90 m"],
        ],
    )]);
    let rail = rules.material("rail").expect("it is built in");
    assert_eq!((rail.kerf, rail.trim), (Length::ZERO, Length::ZERO));
    assert_eq!(rules.longest_piece("rail"), Some(Length::from_mm(4000)));
}

#[test]
fn offcuts_of_no_use_and_of_no_count_are_asked_about() {
    let offcut = |length, quantity| {
        raised("Offcuts", &[&["Material", "Length", "Quantity"], &["rod", length, quantity]])
    };
    // Two trims of 10 mm are all of 20 mm.
    let expected = "check Offcuts!B2: an offcut is no longer than its two end trims together; it is ignored \
                    [check its length, or delete the row] (rod, 20 mm)";
    assert_eq!(offcut("20 mm", "1"), [expected]);
    assert_eq!(offcut("20.1 mm", "1"), Vec::<String>::new());
    let none = offcut("1 m", "0");
    assert_eq!(none.len(), 1, "{none:#?}");
    assert!(
        none[0].starts_with("stop Offcuts!D2: ") || none[0].starts_with("stop Offcuts!C2: "),
        "{none:#?}"
    );
    // A color is that of the product, whatever its case.
    let rules = read(&[("Offcuts", &[&["Material", "Color", "Length"], &["Rail", "WHITE", "1 m"]])]);
    assert_eq!((&*rules.offcuts[0].material, &*rules.offcuts[0].color), ("rail", "white"));
}

#[test]
fn surveys_that_say_different_things_stop_the_run_and_name_both_cells() {
    let both = |sheet: &str, one: Rows, other: Rows| {
        let mut names = Sheets::default();
        let grids =
            [grid(&mut names, "a.xlsx", &[(sheet, one)]), grid(&mut names, "b.xlsx", &[(sheet, other)])];
        outcome(&names, rules::build(&grids, Unit::Inch)).1
    };
    // Sheet, one cell under a heading, the same in another survey, and something else.
    let cases = [
        ("Project", ["Item", "Value"], ["Currency", "USD", "usd", "EUR"]),
        ("Products", ["Product", "Side clearance"], ["louver-89", "1/4 in", "6.35 mm", "1/2 in"]),
        ("Rates", ["Item", "Rate"], ["delivery", "90", "90.00", "80"]),
        ("Prices", ["Item", "Price"], ["carrier", "1", "1.00", "1.10"]),
    ];
    for (sheet, headings, [item, value, same, other]) in cases {
        let agreed = both(sheet, &[&headings, &[item, value]], &[&headings, &[item, same]]);
        assert_eq!(agreed, Vec::<String>::new());
        // What one survey alone brings, it brings for both, with a note.
        let alone = both(sheet, &[&headings, &[item, value]], &[]);
        let note = format!("note b.xlsx {sheet}!A1: a survey has no");
        assert!(alone.len() == 1 && alone[0].starts_with(&note), "{alone:#?}");
        let differ = both(sheet, &[&headings, &[item, value]], &[&headings, &[item, other]]);
        let places: Vec<&str> = differ.iter().filter_map(|query| query.split(": ").next()).collect();
        assert_eq!(places, [format!("stop a.xlsx {sheet}!B2"), format!("stop b.xlsx {sheet}!B2")]);
        assert!(differ.iter().all(|query| query.contains("differs between the surveys")), "{differ:#?}");
    }
    // Who measured, and when, may differ: the first is used, and someone should look.
    let revision =
        both("Project", &[&["Item", "Value"], &["Revision", "B"]], &[&["Item", "Value"], &["Revision", "C"]]);
    assert_eq!(revision.len(), 2);
    assert!(revision.iter().all(|query| query.starts_with("check")), "{revision:#?}");
}

/// A sheet, an item or a value that one survey has and another leaves out would rule the other's
/// blinds in silence, unless one survey alone has rules.
#[test]
fn what_one_survey_leaves_out_of_its_rule_sheets_stops_the_run() {
    let places = |surveys: &[Written]| -> Vec<String> {
        let mut names = Sheets::default();
        let named = surveys.iter().zip(["a.xlsx", "b.xlsx", "c.xlsx"]);
        let grids: Vec<Grid> = named.map(|(written, survey)| grid(&mut names, survey, written)).collect();
        let raised = outcome(&names, rules::build(&grids, Unit::Inch)).1;
        let place_and_detail = |query: &String| {
            let place = query.split_once(": ").map_or("", |(place, _)| place);
            let detail = query.rsplit_once("] ").map_or("", |(_, detail)| detail);
            format!("{place} {}", if detail == "()" { "" } else { detail }).trim_end().to_owned()
        };
        raised.iter().map(place_and_detail).collect()
    };
    let products: (&str, Rows) = ("Products", &[&["Product", "Side clearance"], &["louver-89", "1/2 in"]]);
    let rates: (&str, Rows) = ("Rates", &[&["Item", "Rate"], &["delivery", "90"]]);
    let more_rates: (&str, Rows) = ("Rates", &[&["Item", "Rate"], &["delivery", "90"], &["removal", "5"]]);
    let no_value: (&str, Rows) =
        ("Products", &[&["Product", "Side clearance", "Minimum width"], &["louver-89", "", "12 in"]]);
    let openings: (&str, Rows) = ("Openings", &[&["Opening", "Width", "Height"], &["W1", "36", "48"]]);

    // A sheet that is left out, with each place named.
    assert_eq!(
        places(&[&[openings, products, rates], &[openings, rates]]),
        ["stop a.xlsx Products!A1", "stop b.xlsx Openings!A1 (no sheet Products)"]
    );
    // Each has what the other has not.
    assert_eq!(places(&[&[openings, products], &[openings, rates]]).len(), 4);
    // An item, and a value.
    assert_eq!(
        places(&[&[rates], &[more_rates]]),
        ["stop b.xlsx Rates!A3 (removal)", "stop a.xlsx Rates!A1 (no removal)"]
    );
    assert_eq!(
        places(&[&[products], &[no_value]]),
        [
            "stop b.xlsx Products!C2 (Minimum width: 12 in)",
            "stop a.xlsx Products!A2 (no Minimum width)",
            "stop a.xlsx Products!B2 (Side clearance: 1/2 in)",
            "stop b.xlsx Products!A2 (no Side clearance)",
        ]
    );
    // One survey alone may rule the others, be it the second.
    assert_eq!(
        places(&[&[openings], &[openings, products, rates], &[openings]]),
        ["note a.xlsx Openings!A1 (those of b.xlsx)", "note c.xlsx Openings!A1 (those of b.xlsx)"]
    );
    // What is for the reader alone may be left out.
    let noted: (&str, Rows) = ("Rates", &[&["Item", "Rate", "Note"], &["delivery", "90", "by van"]]);
    assert_eq!(places(&[&[rates], &[noted]]), Vec::<String>::new());
}

/// What the rules say, without their places: each list as text.
fn without_places(rules: Rules) -> Vec<String> {
    let Rules {
        project,
        products,
        stock_sizes,
        materials,
        bars,
        offcuts,
        fixings,
        prices,
        rates,
        phases,
        safety,
        assumptions,
        used,
        typed: _,
    } = rules;
    let stock_sizes: Vec<_> = stock_sizes.into_iter().map(|size| StockSize { at: None, ..size }).collect();
    let bars: Vec<_> = bars.into_iter().map(|bar| Bar { at: None, ..bar }).collect();
    let fixings: Vec<_> = fixings.into_iter().map(|fixing| Fixing { at: None, ..fixing }).collect();
    let blinds: Vec<_> =
        prices.blinds.into_iter().map(|blind| BlindPrice { at: None, m2_at: None, ..blind }).collect();
    let parts: Vec<_> = prices.parts.into_iter().map(|part| PartPrice { at: None, ..part }).collect();
    // The blank workbook answers Units itself.
    let used = used.into_iter().filter(|used| used.rule != "Units");
    let examples: Vec<_> = used.map(|used| (used.table, used.item, used.rule, used.example)).collect();
    vec![
        format!("{project:?}"),
        format!("{products:?}"),
        format!("{stock_sizes:?}"),
        format!("{materials:?}"),
        format!("{bars:?}"),
        format!("{offcuts:?}"),
        format!("{fixings:?}"),
        format!("{blinds:?}"),
        format!("{parts:?}"),
        format!("{rates:?}"),
        format!("{phases:?}"),
        format!("{safety:?}"),
        format!("{assumptions:?}"),
        format!("{examples:?}"),
    ]
}

#[test]
fn the_blank_workbook_reads_back_as_the_built_in_rules() {
    for units in [Units::Inches, Units::Millimeters] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("survey.xlsx");
        blank(units).expect("it is laid out").save(&path).expect("it is saved");
        let mut names = Sheets::default();
        let grid = grid::read(&path, &mut names).expect("it reads");
        let sheets: Vec<&str> = grid.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
        let expected = [
            "Read me first",
            "Project",
            "Openings",
            "Types",
            "Phases",
            "Products",
            "Stock sizes",
            "Materials",
            "Bars",
            "Offcuts",
            "Fixings",
            "Prices",
            "Rates",
            "Options",
            "Columns explained",
        ];
        assert_eq!(sheets, expected);
        let (rules, queries) = outcome(&names, rules::build(&[grid], units.unit()));
        assert_eq!(queries, Vec::<String>::new());
        let (read, built_in) = (without_places(rules.expect("it reads")), without_places(built_in(units)));
        for (read, built_in) in read.iter().zip(&built_in) {
            assert_eq!(read, built_in);
        }
    }
}

/// Every column of the survey's sheets stands in the blank workbook, under a heading that reads.
#[test]
fn the_blank_workbook_has_every_heading_of_the_survey() {
    for units in [Units::Inches, Units::Millimeters] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("survey.xlsx");
        blank(units).expect("it is laid out").save(&path).expect("it is saved");
        let grid = grid::read(&path, &mut Sheets::default()).expect("it reads");
        for (name, headings) in
            [("Openings", OPENINGS.offered().count()), ("Types", OPENINGS.offered().count() - 8)]
        {
            let examples = usize::from(name == "Openings");
            let sheet = tables::find(&grid, name).expect("it is there");
            let read = tables::read(sheet, &OPENINGS, units.unit());
            assert_eq!((read.rows.len(), read.carried, read.queries), (examples, vec![], vec![]));
            assert_eq!(sheet.rows[1].cells.len(), headings);
            let named: Vec<Unit> = tables::found_on(sheet, &OPENINGS, &tables::Meanings::default())
                .iter()
                .flat_map(|found| found.units_named())
                .map(|(_, unit)| unit)
                .collect();
            assert_eq!(named, [units.unit()]);
        }
    }
}

/// The example row is no opening; under an id of its own it is one that nothing is asked about.
#[test]
fn the_example_row_is_read_only_under_an_id_of_its_own() {
    for units in [Units::Inches, Units::Millimeters] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("survey.xlsx");
        blank(units).expect("it is laid out").save(&path).expect("it is saved");
        let mut sheets = Sheets::default();
        let mut grid = grid::read(&path, &mut sheets).expect("it reads");
        let read =
            |grid: &Grid| survey::read(&survey::lay_out(std::slice::from_ref(grid))?, &sheets, units.unit());
        assert!(read(&grid).is_err(), "a blank survey has no opening");

        let openings = grid.sheets.iter_mut().find(|sheet| sheet.name == "Openings").expect("it is there");
        let mut second = openings.rows[2].clone();
        second.row += 1;
        second.cells[0].1 = Value::Text("W1".into());
        openings.rows.push(second);
        let Checked { value, queries } = read(&grid).expect("it holds an opening");
        let messages: Vec<&str> = queries.iter().map(|query| query.message.as_str()).collect();
        assert_eq!(messages, ["the example row is still in the survey; it is ignored"]);
        assert_eq!((value.rows, value.openings.len()), (1, 1));
        assert!(value.openings[0].facts.is_some());
    }
}

/// As any program reads it: the file's own XML, for a list of words and for one from another sheet.
#[test]
fn choices_are_drop_down_lists_in_the_file() {
    let bytes = blank(Units::Inches).expect("it is laid out").save_to_buffer().expect("it is written");
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).expect("a zip");
    let mut part = archive.by_name("xl/worksheets/sheet3.xml").expect("Openings");
    let mut xml = String::new();
    std::io::Read::read_to_string(&mut part, &mut xml).expect("text");
    let lists: Vec<&str> =
        xml.split("<dataValidation ").filter(|rule| rule.starts_with("type=\"list\"")).collect();
    let choices =
        OPENINGS.offered().filter(|column| matches!(column.kind, sillbook::schema::Kind::Choice(_))).count();
    assert_eq!(lists.len(), choices + 2, "every choice, Type and Product");
    for words in ["glass,frame,handle", "inside,outside,ceiling,either", "'Products'!$A$3"] {
        assert!(lists.iter().any(|rule| rule.contains(words)), "{words}");
    }
}

#[test]
fn the_same_units_give_the_same_blank_workbook() {
    let bytes = |units| blank(units).expect("it is laid out").save_to_buffer().expect("it is written");
    assert_eq!(bytes(Units::Inches), bytes(Units::Inches));
    assert_ne!(bytes(Units::Inches), bytes(Units::Millimeters));
}

#[test]
fn the_schema_says_each_thing_once() {
    let tables = [
        &project::PROJECT,
        &products::PRODUCTS,
        &stock_sizes::STOCK_SIZES,
        &materials::MATERIALS,
        &bars::BARS,
        &offcuts::OFFCUTS,
        &fixings::FIXINGS,
        &phases::PHASES,
        &prices::PRICES,
        &rates::RATES,
    ];
    for table in tables {
        let headings =
            table.columns.iter().flat_map(|column| std::iter::once(&column.name).chain(column.synonyms));
        let mut headings: Vec<String> = headings.map(|name| name.to_lowercase()).collect();
        let count = headings.len();
        headings.sort();
        headings.dedup();
        assert_eq!(headings.len(), count, "{} has a heading twice", table.sheet);
        assert!(table.columns.iter().enumerate().all(|(slot, column)| column.slot == slot));
    }
}
