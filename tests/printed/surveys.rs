//! Surveys in which no two figures of one opening are equal: left and right, width and height, least
//! and most differ, draw and wand are on different sides, two units bear one name; some openings are
//! provisional (one of them the heaviest of its unit), held, from stock, inside a recess and outside it,
//! worked by a motor or a cord, or must serve for escape; a floor is still to come, or an end of the
//! rail is not on a stud.

/// In inches.
pub(super) const INCHES: &str = "
[Project]
Project             | Mill Court
Site                | 7 Weir Street
Revision            | C
Units               | in
Built               | 2010
Jurisdiction        | US
Ceiling height      | 108
Order date          | 2026-03-02
Stock sizes         | yes
Accept less cover   | 1
Overhead %          | 9
Tax %               | 7
[Phases]
Phase | Order number | Deliver to | Order date | Need by    | Budget
one   | MC-1         | Weir dock  | 2026-03-04 | 2026-03-18 | 300
two   | MC-2         | Yard       |            | 2026-04-09 | 9,000.00
[Openings]
Building | Floor | Unit  | Opening | Room    | Phase | Kind       | Quantity | Width top | Width bottom | Height left | Height right | Measured | Recess depth | Handle | Wall left | Left ends at | Wall right | Right ends at | Sill height | Header height | Header offset | Mount   | Color | Opening leaf | Draw  | Control | Substrate | Note         | Client ref | Motor side | Cord device    | Cord height | Escape | Escape clear width | Escape clear height | Floor to come | Stud spacing | First stud
North    | 3     | '0304 | D1      | Lounge  | one   | patio door | 1        | 106       | 106 1/8      | 78 1/4      | 78           | tape     | 2            | 3 1/2  | 1 3/8     | wall         |            |               |             | 7 1/4         | 1/2           | outside | cream  | right        | left  | wand    | stud wall | mind the cat | K-1
North    | 3     | '0304 | D2      | Kitchen | one   | door       | 2        | 60        | 60 1/8       | 81          | 80 7/8       | tape     | 0            | 3 3/4  |           |              | 1 7/8      | cupboard      |             |               |               | outside | white  | left         | right | wand    | wood    |              | K-2
North    | 3     | '0304 | W1      | Bedroom | two   | window     | 3        | 70 1/4    | 70           | 50          | 50 1/8       | tape     | 3            | 0      |           |              |            |               | 31          |               |               | inside  | gray   |              | split | wand    | concrete  |              | K-3
North    | 3     | '0304 | W2      | Bath    | two   | window     | 1        | 33        | 33 1/8       | 40          | 40 1/8       | drawing  | 4            | 0      |           |              |            |               | 45          |               |               | inside  | white  |              | left  | wand    | masonry   |              | K-4
North    | 2     | '0201 | D1      | Lounge  | one   | patio door | 1        | 100       | 100 1/8      | 76 1/2      | 76 3/8       | tape     | 0            | 2      |           |              |            |               |             |               |               | outside | white  | right        | left  | wand    | wood    |              | K-5
North    | 2     | '0201 | W3      | Study   | one   | window     | 1        | 48        |              |             |              | tape     | 0            | 0      |           |              |            |               | 30          |               |               | outside | white  |              | left  | wand    | wood    |              | K-6
North    | 2     | '0201 | W9      | Atrium  | one   | window     | 1        | 140       | 140 1/8      | 90          | 90 1/8       | drawing  | 4            | 0      |           |              |            |               | 6 1/2       |               |               | inside  | cream |              | left  | wand    | wood    |              | K-9
South    | 3     | '0304 | W4      | Hall    | two   | window     | 1        | 150       | 150 1/4      | 36          | 36 3/8       | tape     | 0            | 0      | 2 1/8     | wall         | 1 1/2      | wall          |             |               |               | outside | cream  |              | right | motor   |           |              | K-7
South    | 1     | '0101 | W5      | Den     | two   | window     | 4        | 40        | 40 1/8       | 52          | 52 1/8       | tape     | 2 1/2        | 1/8    |           |              |            |               | 28          |               |               | inside  | white  |              | right | wand    | wood    |              | K-8        |            |                |             | yes    | 30 3/8             | 41
South    | 1     | '0101 | W6      | Loft    | two   | window     | 1        | 44        | 44 1/8       | 47          | 47 1/8       | tape     | 0            | 0      |           |              |            |               | 29          |               |               | outside | gray  |              | left  | cord    | wood      |              | K-10       |            | tension device | 47 1/2      |        |                    |                     | 3/8
South    | 1     | '0101 | W7      | Attic   | two   | window     | 1        | 52        | 52 1/8       | 43          | 43 1/8       | tape     | 0            | 0      |           |              |            |               | 33          |               |               | outside | cream |              | left  | motor   | wood      |              | K-11       | left
South    | 1     | '0101 | W8      | Nook    | two   | window     | 1        | 60        | 60 1/8       | 37          | 37 1/8       | tape     | 0            | 0      |           |              |            |               | 35          |               |               | outside | white |              | left  | wand    | stud wall |              | K-12       |            |                |             |        |                    |                     |               | 24           | 12
";

/// In millimeters.
pub(super) const MILLIMETERS: &str = "
[Project]
Project        | Court des Moulins
Revision       | 4
Units          | mm
Cost basis     | make
Ceiling height | 2700
[Openings]
Building | Floor | Unit | Opening | Room    | Kind       | Quantity | Width top | Width bottom | Height left | Height right | Measured | Recess depth | Handle | Wall left | Left ends at | Wall right | Right ends at | Sill height | Mount   | Product    | Color | Opening leaf | Draw  | Substrate
A        | 1     | 11   | D1      | Salon   | patio door | 2        | 2310      | 2313         | 2011        | 2014         | tape     | 0            | 60     |           |              | 33         | wall          |             | outside | louver-127 | cream  | left         | right | wood
A        | 1     | 11   | W1      | Cuisine | window     | 1        | 1203      | 1201         | 1404        | 1407         | tape     | 95           | 0      |           |              |            |               | 812         | inside  | louver-89  | white  |              | left  | masonry
A        | 2     | 21   | W2      | Chambre | window     | 1        | 905       | 907          | 1102        | 1104         | rough    | 0            | 0      | 41        | cupboard     | 300        | free          | 903         | outside | louver-89  | white  |              | split | concrete
A        | 2     | 21   | W3      | Bureau  | window     | 1        | 905       |              |             |              | tape     | 0            | 0      |           |              |            |               | 903         | outside | louver-89  | white  |              | split | concrete
";
