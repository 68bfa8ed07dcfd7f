//! Surveys that are not easy on the checks: every state at once, rules of one's own, walls and
//! floors in the way, and rows made by chance.

/// A survey of every state, made from bars of its own, in which some prices are not known: the
/// one in which faults are planted.
pub const MIXED: &str = "
    [Project]
    Units         | in
    Currency      | USD
    Cost basis    | make
    Tax %         | 8.25%
    Overhead %    | 9
    Profit %      | 7.5
    Contingency % | 3
    Order date    | 2026-03-02
    Cut by phase  | yes
    [Openings]
    Opening | Unit | Kind       | Quantity | Width  | Height | Sill height | Recess depth | Handle | Wall left | Wall right | Right ends at | Wall above | Measured | Substrate | Draw  | Phase | Mount
    D1      | A    | patio door |          | 106    | 78     |             | 0            | 1      | 10        | 10         |               | 20         |          | wood    | left  | 1 |
    D2      | A    | patio door | 2        | 95 1/2 | 79     |             | 0            |        | 10        | 1          | wall          | 20         |          | masonry   | split | 1 |
    D3      | A    | patio door | 1        | 70     | 79     |             | 0            | 1      | 1         | 12         |               | 20         |          |           | right | 2 |
    W1      | A    | window     | 3        | 60     | 48     | 30          | 5            | 0      | 5         | 5          |               | 20         |          | wood    | left  | 2 |
    W2      | B    | window     |          | 36     | 48     | 30          | 5            | 0      | 5         | 5          |               | 20         | drawing  | wood    | left  | 2 |
    W3      | B    | window     |          | 42     | 48     |             |              | 0      |           |            |               |            |          | wood    |       | 2 |
    W4      | B    | window     |          | 42     |        | 30          | 5            | 0      | 5         | 5          |               | 20         |          | wood    | left  | 2 |
    W5      | B    | window     |          | 9      | 48     | 30          | 5            | 0      | 5         | 5          |               | 20         |          | wood    | left  | 2 |
    W6      | C    | window     | 4        | 80     | 52     | 30          | 6            | 0      |           |            |               |            |          | concrete  | split | |
    W7      | C    | window     | 1        | 48     | 50     | 30          |              | 0      |           |            |               |            |          | wood    | left  | | inside
    [Types]
    Type | Mount
    T    | inside
    [Bars]
    Material  | Length  | Price | Kerf | End trim
    rail      | 5800 mm | 26    | 3 mm | 10 mm
    rail      | 3200 mm | 15    | 3 mm | 10 mm
    rod       | 5800 mm | 9     | 3 mm | 10 mm
    valance   | 5800 mm |       | 3 mm | 10 mm
    fabric-89 | 100 m   | 95    | 0 mm | 10 mm
    [Offcuts]
    Material | Color | Length  | Quantity
    rail     | white  | 2900 mm | 2
";

/// The same, the whole project sawn at once.
pub fn at_once() -> String {
    MIXED.replace("Cut by phase  | yes", "Cut by phase  | no")
}

/// The same openings bought whole, with stock sizes and shared sizes.
pub fn bought() -> String {
    let (survey, _) = MIXED.split_once("[Bars]").unwrap();
    survey
        .replace("| make", "| buy")
        .replace("[Openings]", "Stock sizes | yes\n    Merge sizes | 1/2\n    [Openings]")
}

/// Finished sizes: nothing comes off, and what needs the opening is not known.
pub const FINISHED: &str = "
    [Project]
    Units           | mm
    Sizes given are | finished
    [Openings]
    Opening | Unit | Width | Height | Mount   | Substrate
    W1      | A    | 1500  | 1800   | outside | wood
    W2      | A    | 1200  | 1500   | inside  | steel
    W3      | A    | 1200  | 1500   |         |
";

/// Rows of which many are in their own way, and one that nobody can name.
pub const AWKWARD: &str = "
    [Project]
    Units             | in
    Accept less cover | 2
    Stock sizes       | yes
    Ceiling height    | 96
    Spare louvers %   | 0
    [Openings]
    Opening | Unit | Kind       | Quantity | Width     | Height | Wall left | Wall right | Left ends at | Right ends at | Wall above | Wall below | Recess depth | Trim | Sill height | Drop wanted | Header height | Draw  | Control | Floor surface | Floor to come | Note
    H01     | 1    | patio door |          | 106       | 78     | 0         | 0          | wall         | wall          |            |            | 0            | 1    |             |             |               | split |         |               |               |
    H02     | 1    | patio door |          | 106       | 78     | 1/4       | 30         | free         | cupboard      | 3 1/4      |            | 0            |      |             | 84          |               | left  | motor   | carpet        | 1/2           |
    H03     | 1    | patio door | 10000    | 192       | 78     | 0         | 0          |              |               | 12         |            | 1/2          |      |             |             | 7 1/4         |       |         | unfinished    |               |
    H04     | 2    | window     |          | 12 1/2    | 12 1/2 |           |            |              |               |            |            | 6            |      | 40          |             |               | split |         |               |               |
    H05     | 2    | window     |          | 12        | 13     | 0         | 0          | wall         | wall          |            | 0          | 0            |      | 40          |             |               |       |         |               |               |
    H06     | 2    | window     | 1.5      | 40        | 40     |           |            |              |               |            |            |              |      |             |             |               |       |         |               |               |
    H07     | 2    | window     |          | -40       | 40     |           |            |              |               |            |            |              |      |             |             |               |       |         |               |               |
    H08     | 2    | window     |          | '#N/A text | 40     |           |            |              |               |            |            |              |      |             |             |               |       | cord    |               |               |
    h09     | 2    |            |          | 40        | 40     |           |            |              |               |            |            | 6            |      |             |             |               |       |         |               |               | =1+1
    H09     | 2    |            |          | 40        | 40     |           |            |              |               |            |            | 6            |      |             |             |               |       |         |               |               |
            |      |            |          | 40        | 40     |           |            |              |               |            |            |              |      |             |             |               |       |         |               |               |
    H10     | 3    | patio door |          | 100       | 80     | 3/8       | 3/8        |              |               |            |            | 0            | 4    |             |             | 3             | right |         | hard          |               |
    H11     | 3    | window     |          | 60        | 50     | 2         | 2          |              |               |            | 1          | 0            |      | 30          | 60          |               | split |         |               |               |
    H12     | 3    | window     | 7        | 60        | 50     | 40        | 1/8        |              | wall          |            | 3          | 0            |      |             |             |               |       |         |               |               |
            | 4    | window     | 2        | 33        | 44     |           |            |              |               |            |            | 3            |      | 33          |             |               |       |         |               |               |
";

/// More openings than boxes, some of which would cover less than they should.
pub const SCARCE: &str = "
    [Project]
    Units             | in
    Cost basis        | buy
    Stock sizes       | yes
    Accept less cover | 1
    Order date        | 2026-03-02
    [Openings]
    Opening | Unit | Kind       | Quantity | Width   | Height | Recess depth | Substrate
    D1      | A    | patio door |          | 62      | 78     | 0            | wood
    D2      | A    | patio door |          | 63 1/2  | 78     | 0            | wood
    D3      | A    | patio door | 2        | 63      | 78     | 0            | masonry
    D4      | B    | patio door | 2        | 64 1/2  | 78     | 0            | masonry
    D5      | B    | patio door |          | 75      | 78     | 0            | wood
    D6      | B    | patio door |          | 77      | 78     | 0            | wood
    D7      | B    | patio door |          | 90      | 78     | 0            | wood
    D8      | B    | patio door | 4        | 64 1/4  | 78     | 0            | wood
    [Stock sizes]
    Product   | Nominal width | Nominal drop | Price | Lead days | On hand
    louver-89 | 66            | 84           | 36    | 0         | 3
    louver-89 | 78            | 84           | 42    | 5         | 1
    louver-89 | 104           | 84           |       | 0         | 4
";

/// Rows made by chance, always the same for a seed: sizes to a sixteenth with a few missing or
/// absurd, and every other column now and then.
pub fn by_chance(seed: u64, rows: usize, project: &str) -> String {
    let mut chance = Chance(seed);
    let mut text = format!(
        "[Project]\nUnits | in\n{project}[Openings]\nOpening | Unit | Quantity | Width top | Width bottom | Height | \
         Wall left | Wall right | Right ends at | Wall above | Recess depth | Depth to | Handle | Trim | Sill height | \
         Floor surface | Header height | Mount | Draw | Control | Substrate | Product | Color | Measured | Phase\n"
    );
    for row in 1..=rows {
        let width = chance.sixteenths(10, 195);
        let other = if chance.one_in(3) { width.clone() } else { String::new() };
        let height = if chance.one_in(25) { String::new() } else { chance.sixteenths(10, 130) };
        let cells = [
            format!("X{row}"),
            chance.pick(&["1", "2", "3"]),
            chance.pick(&["", "", "", "2", "5", "40"]),
            width,
            other,
            height,
            chance.pick(&["", "0", "1/2", "1 1/4", "2", "10"]),
            chance.pick(&["", "0", "1/2", "1 1/4", "2", "10"]),
            chance.pick(&["", "wall", "cupboard", "free"]),
            chance.pick(&["", "", "3", "5", "9", "30"]),
            chance.pick(&["", "0", "1", "2 7/8", "3", "4", "7"]),
            chance.pick(&["", "glass", "frame", "handle"]),
            chance.pick(&["", "0", "0", "1", "2 1/2"]),
            chance.pick(&["", "", "1/2", "1"]),
            chance.pick(&["", "0", "24", "36"]),
            chance.pick(&["", "hard", "carpet", "unfinished"]),
            chance.pick(&["", "0", "5 1/2", "9 1/4"]),
            chance.pick(&["", "either", "inside", "outside"]),
            chance.pick(&["", "left", "right", "split"]),
            chance.pick(&["", "", "wand", "motor"]),
            chance.pick(&["", "wood", "stud wall", "drywall", "masonry", "concrete", "steel"]),
            chance.pick(&["", "", "louver-89", "louver-127"]),
            chance.pick(&["", "", "cream", "gray"]),
            chance.pick(&["", "", "", "tape", "typical", "drawing", "rough"]),
            chance.pick(&["", "", "1", "2"]),
        ];
        text.push_str(&cells.join(" | "));
        text.push('\n');
    }
    text
}

/// Numbers that look random and are the same every time (an LCG with the constants of MMIX).
struct Chance(u64);

impl Chance {
    fn next(&mut self, below: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % below
    }

    fn one_in(&mut self, of: usize) -> bool {
        self.next(of) == 0
    }

    fn pick(&mut self, choices: &[&str]) -> String {
        choices[self.next(choices.len())].to_owned()
    }

    /// From so many inches to so many, to a sixteenth.
    fn sixteenths(&mut self, from: usize, to: usize) -> String {
        let inches = from + self.next(to - from);
        match self.next(16) {
            0 => inches.to_string(),
            sixteenths => format!("{inches} {sixteenths}/16"),
        }
    }
}
