//! The facts of materials: from `Materials`, from the sheets on which older surveys write them, and what
//! comes of them on the cut list and in the weight.

use rust_decimal::Decimal;
use sillbook::exchange::json as document;
use sillbook::length::{Length, Unit};
use sillbook::pipeline::{self, Silent};
use sillbook::query::Checked;
use sillbook::rules::{self, Family, LouverRules, Rules, RulesError, StockName};

use crate::support::{surveys, told};

/// Rules of a survey in millimeters, and what is asked about them.
fn read(text: &str) -> (Option<Rules>, Vec<String>) {
    let surveys = surveys(&[("survey.xlsx", text)]);
    let (rules, queries) = match rules::build(&surveys.grids, Unit::Millimeter) {
        Ok(Checked { value, queries }) => (Some(value), queries),
        Err(RulesError::Sheets(queries)) => (None, queries),
        Err(error) => panic!("{error}"),
    };
    (rules, told(&queries, &surveys.sheets))
}

/// Rules about which nothing is asked.
fn plain(text: &str) -> Rules {
    let (rules, asked) = read(text);
    assert_eq!(asked, Vec::<String>::new(), "{text}");
    rules.unwrap()
}

fn louvers<'r>(rules: &'r Rules, product: &str) -> &'r LouverRules {
    let Family::Louver(louvers) = &rules.product(product).unwrap().family;
    louvers
}

/// Hem, and kilograms of a square meter of louver, of a meter of rail and of a meter of valance.
fn facts(rules: &Rules, product: &str) -> (Length, [String; 3]) {
    let of = louvers(rules, product);
    let masses = [&of.louver_mass, &of.rail_mass, &of.valance_mass];
    (of.hem.value, masses.map(|mass| mass.value.normalize().to_string()))
}

fn mm(value: &str) -> Length {
    Length::of(value.parse::<Decimal>().unwrap(), Unit::Millimeter).unwrap()
}

/// What fabric is by default: 2 in of hems, 0.28 kg/m2; common practice, no source.
fn fabric() -> (Length, [String; 3]) {
    (mm("50.8"), ["0.28", "0.75", "0.35"].map(str::to_owned))
}

/// PVC of 0.8 mm at 1,400 kg/m3 is 1.12 kg/m2, and has no hem.
fn pvc() -> (Length, [String; 3]) {
    (Length::ZERO, ["1.12", "0.75", "0.35"].map(str::to_owned))
}

#[test]
fn hem_and_mass_are_those_of_what_the_louvers_are_cut_from() {
    let rules = plain("[Products]\nProduct | Louver material\nlouver-127 | PVC-127\n");
    assert_eq!(facts(&rules, "louver-89"), fabric());
    assert_eq!(facts(&rules, "louver-127"), pvc());
    let louvers = louvers(&rules, "louver-127");
    // They carry the material's name, and it is spelled as the list of materials spells it.
    assert_eq!((&*louvers.hem.name, &*louvers.louver_material), ("pvc-127.hem", "pvc-127"));
    assert_eq!(louvers.louver_mass.name, "pvc-127.mass");
}

#[test]
fn a_louver_of_pvc_is_as_long_on_the_cut_list_as_on_the_order_and_weighs_as_much_as_it_does() {
    let work = |material: &str| -> serde_json::Value {
        let text = format!(
            "[Project]\nUnits | mm\nSizes given are | finished\n[Openings]\n\
             Opening | Width | Height | Mount | Substrate\nW1 | 1000 | 1500 | outside | wood\n\
             [Products]\nProduct | Louver material\nlouver-89 | {material}\n"
        );
        let surveys = surveys(&[("survey.xlsx", &text)]);
        let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
        let mut out = Vec::new();
        document::write(&pipeline::work(&input, &Silent).unwrap(), &mut out).unwrap();
        serde_json::from_slice(&out).unwrap()
    };
    let cut = |result: &serde_json::Value, material: &str| {
        let plans = result["cuts"].as_array().unwrap();
        let plan = plans.iter().find(|plan| plan["material"] == material).unwrap();
        (plan["patterns"][0]["pieces_mm"][0].as_f64().unwrap(), plan["stock_name"].clone())
    };
    // 1500 less 1 1/2 in is 1461.9 mm; (1000 - 88.9) / 79.375 = 11.5 makes 13 louvers.
    let (pvc, fabric) = (work("pvc-89"), work("fabric-89"));
    let order = &pvc["order"][0];
    assert_eq!((&order["louver_count"], &order["louver_length_mm"]), (&13.into(), &1461.9.into()));
    assert_eq!(cut(&pvc, "pvc-89"), (1461.9, "length".into()));
    assert_eq!(cut(&fabric, "fabric-89"), (1512.7, "roll".into()));
    // 13 x 0.0889 x 1.4619 = 1.68951783 m2. Beside that 13 x 0.072 = 0.936 kg of weights and carriers, 0.75 of
    // rail, 1.0127 m of valance 0.354445: at 1.12 kg/m2 1.89225997 more, at 0.28 0.47306499.
    assert_eq!(pvc["openings"][0]["weight_kg"], 3.933);
    assert_eq!(fabric["openings"][0]["weight_kg"], 2.514);
}

#[test]
fn materials_go_field_by_field() {
    let before = plain("[Rates]\nItem | Rate\ndelivery | 1\n");
    let rules = plain(
        "[Materials]\nMaterial | Kerf | Hem allowance | Stock is called | Comes in colors\n\
         RAIL | 4 | | | \nfabric-89 | | 40 | length |\nrod | | | | yes\n",
    );
    let (rail, was) = (rules.material("rail").unwrap(), before.material("rail").unwrap());
    assert_eq!((rail.kerf, rail.trim, rail.stock_name), (mm("4"), was.trim, was.stock_name));
    assert_eq!(rules.material("fabric-89").unwrap().stock_name, StockName::Length);
    assert_eq!((was.colored, before.material("rod").unwrap().colored), (true, false));
    assert!(rules.material("rod").unwrap().colored);
    assert_eq!(facts(&rules, "louver-89"), (mm("40"), fabric().1));
    // The other fabric is another material.
    assert_eq!(facts(&rules, "louver-127"), fabric());
    let source = |rule| rules.source("Materials", "rail", rule).map(|used| (&*used.value, used.at.is_some()));
    assert_eq!((source("Kerf"), source("End trim")), (Some(("4 mm", true)), Some(("10 mm", false))));
}

/// A product whose louvers are of a material that is not built in.
const OF_MESH: &str = "[Products]\nProduct | Like | Louver material\nmesh | louver-89 | mesh-89\n\
                       [Bars]\nMaterial | Length\nrail | 6 m\nrod | 6 m\nvalance | 6 m\n\
                       fabric-89 | 50 m\nfabric-127 | 50 m\nmesh-89 | 50 m\n";

#[test]
fn a_new_material_starts_from_the_one_it_is_like_or_is_taken_the_cautious_way() {
    let of_mesh = |sheet: &str| read(&(OF_MESH.to_owned() + sheet));
    let assumed = "Materials says too little of a new material; cautious values are used";
    // As heavy as PVC, and hemmed: 2 in.
    let (rules, asked) = of_mesh("");
    let all = "Stock is called bar, Comes in colors yes, Kerf 3 mm, End trim 10 mm, \
               Shortest offcut to keep 600 mm, Hem allowance 2 in, Mass (kg per m2 or m) 1.12";
    assert_eq!(asked, [format!("check Bars!A7: {assumed} (mesh-89: {all})")]);
    assert_eq!(facts(&rules.unwrap(), "mesh"), (mm("50.8"), pvc().1));

    let (rules, asked) = of_mesh("[Materials]\nMaterial | Like | Louver kg/m2\nmesh-89 | Fabric-89 | 0.4\n");
    assert_eq!(asked, Vec::<String>::new());
    let rules = rules.unwrap();
    assert_eq!(facts(&rules, "mesh").1[0], "0.4");
    let mesh = rules.material("mesh-89").unwrap();
    assert_eq!((mesh.kerf, mesh.stock_name), (Length::ZERO, StockName::Roll));

    let full = "Material | Stock is called | Comes in colors | Kerf | End trim | Shortest offcut to keep | \
                Hem allowance | Louver kg/m2\nmesh-89 | roll | no | 0 | 0 | 1 m";
    // Nothing is assumed of what is said, and only what its product needs is asked for.
    let (_, asked) = of_mesh(&format!("[Materials]\n{full} | 0 | 0.4\n"));
    assert_eq!(asked, Vec::<String>::new());
    let (_, asked) = of_mesh(&format!("[Materials]\n{full} | | 0.4\n"));
    assert_eq!(asked, [format!("check Materials!A2: {assumed} (mesh-89: Hem allowance 2 in)")]);

    let (_, asked) = of_mesh("[Materials]\nMaterial | Like\nmesh-89 | fabric-98\n");
    assert_eq!(
        asked[0],
        "check Materials!B2: a material names an unknown one under Like, which is ignored (fabric-98)"
    );
    assert_eq!(asked.len(), 2, "{asked:#?}");
}

#[test]
fn how_a_material_is_sawn_is_still_read_from_bars() {
    let bars = "[Bars]\nMaterial | Length | Kerf | End trim | Shortest offcut to keep | Comes in colors\n\
                rail | 6 m | 4 | 15 | 500 | no\nrail | 4 m | | 15 | |\nrod | 6 m\nvalance | 6 m\n\
                fabric-89 | 50 m\nfabric-127 | 50 m\n";
    let rules = plain(bars);
    let rail = rules.material("rail").unwrap();
    assert_eq!(
        (rail.kerf, rail.trim, rail.least_useful, rail.colored),
        (mm("4"), mm("15"), mm("500"), false)
    );
    // Where each value came from is said once, on the sheet that has it now.
    let kerf = rules.source("Materials", "rail", "Kerf").unwrap();
    assert_eq!((&*kerf.value, kerf.at.map(|at| (at.row, at.column))), ("4 mm", Some((1, 2))));
    assert!(rules.source("Bars", "rail", "Kerf").is_none());

    // Both sheets: the material's own cell, and a stop at both where they differ.
    let with =
        |kerf: &str| read(&format!("{bars}[Materials]\nMaterial | Kerf | End trim\nRail | {kerf} |\n"));
    let (rules, asked) = with("0.4 cm");
    assert_eq!(asked, Vec::<String>::new());
    assert_eq!(rules.unwrap().material("rail").map(|rail| (rail.kerf, rail.trim)), Some((mm("4"), mm("15"))));
    let advice = "Kerf of one material is written in two places, and they differ";
    let (rules, asked) = with("4.1");
    assert!(rules.is_none());
    assert_eq!(
        asked,
        [
            format!("stop Materials!B2: {advice} (rail: 4.1 mm)"),
            format!("stop Bars!C2: {advice} (rail: 4 mm)")
        ]
    );
}

#[test]
fn hem_and_mass_are_still_read_from_products_but_for_what_was_printed_there() {
    let headings =
        "[Products]\nProduct | Louver material | Hem allowance | Fabric kg/m2 | Rail kg/m | Valance kg/m\n";
    let of = |rows: &str| read(&format!("{headings}{rows}"));
    // Someone's own values.
    let (rules, asked) = of("louver-89 | | 40 | 0.36 | 0.8 | 0.4\n");
    assert_eq!(asked, Vec::<String>::new());
    let rules = rules.unwrap();
    assert_eq!(facts(&rules, "louver-89"), (mm("40"), ["0.36", "0.8", "0.4"].map(str::to_owned)));
    // The rail is one material, whoever is cut from it; the other fabric is another.
    assert_eq!(facts(&rules, "louver-127"), (mm("50.8"), ["0.28", "0.8", "0.4"].map(str::to_owned)));
    assert!(rules.source("Products", "louver-89", "Hem allowance").is_none());
    assert!(rules.source("Materials", "fabric-89", "Hem allowance").unwrap().at.is_some());

    // What a blank survey had printed is the fabric's own, and PVC's is another.
    let (_, asked) = of("louver-89 | fabric-89 | 2 in | 0.28 | 0.75 | 0.35\n");
    assert_eq!(asked, Vec::<String>::new());
    let (rules, asked) = of("louver-89 | pvc-89 | 2 in | 0.28 | 0.75 | 0.35\n");
    let not_used =
        |rule: &str| format!("{rule} (Products) is not used: it is the material that decides it now");
    let expected = [
        format!("check Products!C2: {} (louver-89: 2 in; pvc-89: 0 mm)", not_used("Hem allowance")),
        format!("check Products!D2: {} (louver-89: 0.28; pvc-89: 1.12)", not_used("Fabric kg/m2")),
    ];
    assert_eq!(asked, expected);
    assert_eq!(facts(&rules.unwrap(), "louver-89"), pvc());

    // No product inherits what another was told of its own material.
    let (rules, asked) = read(
        "[Products]\nProduct | Like | Louver material | Hem allowance\nlouver-89 | | | 40\nhard | louver-89 | pvc-89 |\n",
    );
    assert_eq!(asked, Vec::<String>::new());
    assert_eq!(facts(&rules.unwrap(), "hard"), pvc());

    // Two products cut from one material, each with a hem of its own; and the material with another.
    let advice = "Hem allowance of one material is written in two places, and they differ";
    let (rules, asked) = of("louver-89 | | 40\nlouver-127 | fabric-89 | 41\n");
    assert!(rules.is_none());
    assert_eq!(
        asked,
        [
            format!("stop Products!C2: {advice} (fabric-89: 40 mm)"),
            format!("stop Products!C3: {advice} (fabric-89: 41 mm)")
        ]
    );
    let own = "[Materials]\nMaterial | Hem allowance\nfabric-89 | 42\n";
    let (rules, asked) = read(&format!("{headings}louver-89 | | 40\n{own}"));
    assert!(rules.is_none());
    assert_eq!(asked[0], format!("stop Materials!B2: {advice} (fabric-89: 42 mm)"));
    // A value that cannot be read is asked about where it stands.
    let (rules, asked) = of("louver-89 | | a bit\n");
    assert!(rules.is_none());
    assert!(asked.len() == 1 && asked[0].starts_with("stop Products!C2: "), "{asked:#?}");
}

#[test]
fn a_new_material_that_nothing_is_cut_from_is_asked_about_once() {
    let (_, asked) = read("[Materials]\nMaterial | Kerf\nrial | 4\n");
    assert_eq!(asked, ["check Materials!A2: no product uses a material listed in Materials (rial)"]);
    let with_bar = "[Bars]\nMaterial | Length\nrail | 6 m\nrod | 6 m\nvalance | 6 m\nfabric-89 | 50 m\n\
                    fabric-127 | 50 m\nrial | 6 m\n[Materials]\nMaterial | Kerf\nrial | 4\n";
    assert_eq!(read(with_bar).1.len(), 1);
    // Built in for another choice of louvers.
    assert_eq!(read("[Materials]\nMaterial | Kerf\npvc-89 | 4\n").1, Vec::<String>::new());
}
