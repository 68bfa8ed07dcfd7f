//! Other headings that mean the same as a column of `Openings`: by column and language, the better
//! one first. Where two columns of a sheet claim one field, the one whose heading stands earlier
//! here is used. Case, spaces, punctuation and the width of letters are set aside when headings are
//! compared, words may stand in another order, and a letter with a mark is also known without it
//! (`höhe`, `hoehe`, `hohe`). No heading may stand under two columns.
//!
//! What is left out matters as much: a leaf's, a frame's or a casing's width, a thickness, an
//! elevation, a clear passage and a head are not the opening's, and no heading for them is here.

use super::Column;
use super::openings as of;
use crate::length::Unit;

/// Words that resemble a column without saying just that: nothing is read under them, and they are
/// asked about.
pub(crate) static RESEMBLING: &[(&Column, &[&str])] = &[
    (&of::QUANTITY, &["Off", "EA", "Il", "台数", "Number of", "No required"]),
    (&of::SILL_HEIGHT, &["AFF", "FFL", "AFFL", "FFL to bottom", "离地高度", "Hauteur appui"]),
    (&of::MOUNT, &["IM/OM", "IB/OB", "Fit", "Fix", "Inside/outside", "安装位置"]),
    (
        &of::OPENS,
        &[
            "Operation",
            "Opening method",
            "Opening type",
            "Swing",
            "Öffnungsart",
            "Öffnungsrichtung",
            "Sens d'ouverture",
            "Type d'ouverture",
            "Kierunek otwierania",
            "Sposób otwierania",
            "开启方式",
            "开启方向",
        ],
    ),
    (&of::OPENING_LEAF, &["Handing", "Handed", "Hinge", "Hinged", "Active panel", "Opening panel"]),
    (&of::DRAW, &["Stacking", "Paket", "Paketseite", "Pull"]),
    (
        &of::CONTROL,
        &[
            "Motorized",
            "Operating",
            "Drive",
            "Bedienung",
            "Bedienseite",
            "Manœuvre",
            "Sterowanie",
            "控制方式",
        ],
    ),
    (&of::SUBSTRATE, &["Fixing base", "Untergrund", "Podłoże", "Support de pose", "墙体材料"]),
    (
        &of::WALL_LEFT,
        &[
            "Wand links",
            "Wand li",
            "Left clearance",
            "LH clearance",
            "Retour gauche",
            "Ściana lewa",
            "左墙距",
        ],
    ),
    (
        &of::WALL_RIGHT,
        &[
            "Wand rechts",
            "Wand re",
            "Right clearance",
            "RH clearance",
            "Retour droit",
            "Ściana prawa",
            "右墙距",
        ],
    ),
    (
        &of::WALL_ABOVE,
        &["Headroom", "Ceiling ht", "Abstand Decke", "Wand oben", "Dist plafond", "Do sufitu", "距顶"],
    ),
    (&of::WALL_BELOW, &["Obstructions", "Obstruction below", "Below window", "Wand unten"]),
    (&of::BELOW_STANDS_OUT, &["Below projection"]),
    (&of::FLOOR_SURFACE, &["Fl finish", "Floor finish", "Floor material", "Bodenbelag"]),
    (&of::FLOOR_TO_COME, &["Bodenaufbau noch", "Bodenaufbau", "Estrich fehlt noch", "Estrich"]),
    (&of::COLOR, &["Lamellenfarbe", "Slat shade", "Shade"]),
];

/// Lists the headings of a column, a line for each language.
macro_rules! headings {
    ($($column:ident { $($language:ident: $($heading:literal),+;)+ })+) => {
        $(pub(super) const $column: &[&str] = &[$($($heading),+),+];)+
    };
}

headings! {
    OPENING {
        english: "Opening tag", "Tag no", "Item number", "Mark", "Opening mark", "Id", "Opening id", "Opening no", "Opening number", "Opening ref",
            "Tag", "Window id", "Door id", "Window mark", "Door mark", "Window tag", "Door tag", "Window no",
            "Door no", "Window number", "Door number", "Window ref", "Door ref", "Reference", "Ref", "Ref no",
            "Item no", "No", "Number", "Name", "Opening name", "Window", "Door";
        german: "Öffnung", "Pos", "Pos Nr", "Fenster Nr", "Tür Nr", "Kennung", "Bezeichnung", "Nr", "Fenster", "Position", "OZ";
        french: "Ouverture", "Repère", "Baie", "Identifiant", "Référence", "Réf", "Fenêtre";
        spanish: "Abertura", "Hueco", "Código", "Identificador", "Referencia", "Ventana";
        italian: "Apertura", "Codice", "Riferimento", "Sigla", "Finestra";
        dutch: "Opening nr", "Kenmerk", "Merk", "Raam", "Raamnummer";
        swedish: "Öppning", "Littera", "Beteckning", "Fönster";
        polish: "Otwór", "Symbol", "Oznaczenie", "Okno", "Lp";
        chinese: "洞口编号", "门窗编号", "编号", "窗号", "门号", "门窗", "序号";
        japanese: "開口番号", "建具番号", "符号", "記号", "番号";
    }
    BUILDING {
        english: "House", "Bldg", "Block", "Building name", "Tower", "Building no", "Building number";
        german: "Gebäude", "Haus", "Bauteil";
        french: "Bâtiment", "Immeuble";
        spanish: "Edificio", "Bloque";
        italian: "Fabbricato", "Palazzina";
        dutch: "Gebouw", "Bouwblok";
        swedish: "Byggnad", "Huskropp";
        polish: "Budynek";
        chinese: "楼栋", "楼号", "栋";
        japanese: "建物", "棟";
    }
    FLOOR {
        english: "Flr", "Level", "Storey", "Story", "Floor name", "Floor no", "Floor number", "Level name",
            "Storey name", "Reference level", "Building storey";
        german: "Geschoss", "Geschoß", "Etage", "Stockwerk", "Ebene";
        french: "Niveau", "Étage du bâtiment";
        spanish: "Planta", "Piso", "Nivel";
        italian: "Piano", "Livello";
        dutch: "Verdieping", "Bouwlaag", "Niveau nr";
        swedish: "Våning", "Våningsplan";
        polish: "Piętro", "Kondygnacja", "Poziom";
        chinese: "楼层", "层";
        japanese: "階", "フロア";
    }
    UNIT {
        english: "Apartment", "Flat", "Unit no", "Unit number", "Unit id", "Unit name", "Apartment no",
            "Apartment number", "Apt", "Apt no", "Flat no", "Flat number", "Suite", "Suite no", "Plot",
            "Plot no", "Plot number", "Dwelling", "Dwelling no";
        german: "Wohnung", "Wohneinheit", "Einheit", "Whg", "Wohnungsnummer", "Wohnung Nr";
        french: "Appartement", "Logement", "Appart", "Lot";
        spanish: "Apartamento", "Vivienda", "Departamento";
        italian: "Appartamento", "Unità", "Alloggio";
        dutch: "Woning", "Appartement nr", "Bouwnummer";
        swedish: "Lägenhet", "Lgh", "Bostad";
        polish: "Mieszkanie", "Lokal";
        chinese: "户号", "单元", "房号", "户型号";
        japanese: "住戸", "住戸番号", "部屋番号";
    }
    ROOM {
        english: "Rm", "Room name", "Location", "Space", "Space name", "Room no", "Room number", "Room id";
        german: "Raum", "Zimmer", "Raumname", "Raumnummer", "Raum Nr";
        french: "Pièce", "Local", "Espace", "Salle";
        spanish: "Habitación", "Estancia", "Sala", "Ubicación", "Cuarto";
        italian: "Stanza", "Locale", "Ambiente";
        dutch: "Kamer", "Ruimte", "Vertrek";
        swedish: "Rum", "Rumsnamn", "Rumsnummer";
        polish: "Pokój", "Pomieszczenie";
        chinese: "房间", "房间名称", "位置";
        japanese: "部屋", "部屋名", "室名";
    }
    PHASE {
        english: "Batch", "Stage", "Delivery phase";
    }
    KIND {
        english: "Kind of opening", "Opening kind", "Window or door", "Door or window";
    }
    TYPE {
        english: "Type mark", "Opening type", "Type name", "Type id", "Type ref", "Type code", "Window type",
            "Door type", "Family and type", "Window style", "Door style", "Style";
        german: "Typ", "Fenstertyp", "Türtyp", "Bauart";
        french: "Type de fenêtre", "Modèle";
        spanish: "Tipo", "Tipo de ventana";
        italian: "Tipologia", "Tipo di finestra";
        dutch: "Raamtype", "Kozijntype";
        swedish: "Fönstertyp", "Dörrtyp", "Typbeteckning";
        polish: "Typ okna", "Typ drzwi";
        chinese: "类型", "型号", "窗型";
        japanese: "タイプ", "型式", "型";
    }
    CATEGORY {
        english: "IfcClass", "IfcEntity", "Entity", "Element category", "Class";
        german: "Kategorie", "Art";
        french: "Catégorie", "Genre", "Nature";
        spanish: "Categoría", "Clase";
        italian: "Genere";
        dutch: "Soort";
        swedish: "Kategori", "Slag";
        polish: "Kategoria", "Rodzaj";
        chinese: "类别", "种类";
        japanese: "カテゴリ", "種別", "種類", "区分";
    }
    QUANTITY {
        english: "Quantity required", "Qty required", "Qty req'd", "No of windows", "No of doors", "No of openings", "Number of windows", "Number of doors", "Number of openings", "Qty", "Count", "Nos", "No off", "No of", "Number off", "Pcs", "Pieces", "How many",
            "Total qty", "Total quantity", "Total count", "Total no", "Total number";
        german: "Anzahl", "Stück", "Stk", "Menge", "Stückzahl";
        french: "Quantité", "Qté", "Nombre", "Nbre", "Nb";
        spanish: "Cantidad", "Cant", "Uds", "Unidades";
        italian: "Quantità", "Q.tà", "Pezzi", "Pz", "Numero pezzi";
        dutch: "Aantal", "Stuks", "Hoeveelheid";
        swedish: "Antal", "Mängd", "Styck";
        polish: "Ilość", "Liczba", "Sztuk", "Szt";
        chinese: "数量", "樘数", "个数";
        japanese: "数", "個数", "本数";
    }
    WIDTH {
        english: "Opening width", "Finished opening width", "Width of opening", "Structural opening width",
            "SO width", "Rough opening width", "RO width", "Masonry opening width", "Overall width",
            "Rough width", "Nominal width", "Measured width", "Window width", "Recess width", "Total width", "Unit size width", "W";
        german: "Breite", "Öffnungsbreite", "Lichte Breite", "Rohbaubreite", "Breite licht", "Rohbaumaß Breite",
            "Rohbaumaß B", "B";
        french: "Largeur", "Larg", "Largeur de baie", "Largeur tableau";
        spanish: "Ancho", "Anchura", "Ancho de hueco";
        italian: "Larghezza", "Largh", "Larghezza vano";
        dutch: "Breedte", "Dagmaat breedte";
        swedish: "Bredd", "Öppningsbredd";
        polish: "Szerokość", "Szer", "Szerokość otworu";
        chinese: "宽", "宽度", "洞口宽度", "洞口宽", "寬", "寬度";
        japanese: "幅", "開口幅", "横幅", "横";
    }
    WIDTH_TOP {
        english: "Head width", "Width upper", "Width at top", "Width at head", "Top width", "Upper width";
        german: "Breite oben";
        french: "Largeur haut", "Largeur en haut";
        spanish: "Ancho superior", "Ancho arriba";
        italian: "Larghezza sopra", "Larghezza in alto";
        dutch: "Breedte boven";
        swedish: "Bredd upptill", "Bredd topp";
        polish: "Szerokość góra", "Szerokość u góry";
        chinese: "上宽", "宽度上";
        japanese: "幅上", "上幅";
    }
    WIDTH_MIDDLE {
        english: "Width at middle", "Width mid", "Width centre", "Width center";
        german: "Breite mitte", "Breite mittig";
        french: "Largeur milieu", "Largeur au milieu";
        spanish: "Ancho medio", "Ancho centro";
        italian: "Larghezza centro", "Larghezza al centro";
        dutch: "Breedte midden";
        swedish: "Bredd mitt", "Bredd mitten";
        polish: "Szerokość środek", "Szerokość w środku";
        chinese: "中宽", "宽度中";
        japanese: "幅中", "幅中央";
    }
    WIDTH_BOTTOM {
        english: "Width lower", "Width at bottom", "Width at sill", "Lower width";
        german: "Breite unten";
        french: "Largeur bas", "Largeur en bas";
        spanish: "Ancho inferior", "Ancho abajo";
        italian: "Larghezza sotto", "Larghezza in basso";
        dutch: "Breedte onder";
        swedish: "Bredd nedtill", "Bredd botten";
        polish: "Szerokość dół", "Szerokość na dole";
        chinese: "下宽", "宽度下";
        japanese: "幅下", "下幅";
    }
    HEIGHT {
        english: "Opening height", "Finished opening height", "Height of opening",
            "Structural opening height", "SO height", "Rough opening height", "RO height",
            "Masonry opening height", "Overall height", "Rough height", "Nominal height",
            "Measured height", "Window height", "Recess height", "Total height", "Unit size height", "H";
        german: "Höhe", "Öffnungshöhe", "Lichte Höhe", "Rohbauhöhe", "Höhe licht", "Rohbaumaß Höhe",
            "Rohbaumaß H";
        french: "Hauteur", "Haut", "Hauteur de baie", "Hauteur tableau";
        spanish: "Alto", "Altura", "Alto de hueco";
        italian: "Altezza", "Altezza vano";
        dutch: "Hoogte", "Dagmaat hoogte";
        swedish: "Höjd", "Öppningshöjd";
        polish: "Wysokość", "Wys", "Wysokość otworu";
        chinese: "高", "高度", "洞口高度", "洞口高";
        japanese: "高さ", "開口高さ", "開口高", "縦";
    }
    HEIGHT_LEFT {
        english: "LH height", "Height at left", "Height left side", "Height LH", "Height L";
        german: "Höhe links";
        french: "Hauteur gauche", "Hauteur à gauche";
        spanish: "Alto izquierda", "Altura izquierda";
        italian: "Altezza sinistra", "Altezza a sinistra";
        dutch: "Hoogte links";
        swedish: "Höjd vänster";
        polish: "Wysokość lewa", "Wysokość z lewej";
        chinese: "左高", "高度左";
        japanese: "高さ左", "左高さ";
    }
    HEIGHT_MIDDLE {
        english: "Height at middle", "Height mid", "Height centre", "Height center";
        german: "Höhe mitte", "Höhe mittig";
        french: "Hauteur milieu", "Hauteur au milieu";
        spanish: "Alto medio", "Altura centro";
        italian: "Altezza centro", "Altezza al centro";
        dutch: "Hoogte midden";
        swedish: "Höjd mitt", "Höjd mitten";
        polish: "Wysokość środek", "Wysokość w środku";
        chinese: "中高", "高度中";
        japanese: "高さ中", "高さ中央";
    }
    HEIGHT_RIGHT {
        english: "RH height", "Height at right", "Height right side", "Height RH", "Height R";
        german: "Höhe rechts";
        french: "Hauteur droite", "Hauteur à droite";
        spanish: "Alto derecha", "Altura derecha";
        italian: "Altezza destra", "Altezza a destra";
        dutch: "Hoogte rechts";
        swedish: "Höjd höger";
        polish: "Wysokość prawa", "Wysokość z prawej";
        chinese: "右高", "高度右";
        japanese: "高さ右", "右高さ";
    }
    SIZE_IN_ONE {
        english: "Dimensions", "Dims", "Opening size", "Nominal size", "Overall size", "Window size", "Door size";
        german: "Abmessungen", "Größe", "Maße";
        spanish: "Dimensiones";
        italian: "Dimensioni";
        dutch: "Afmetingen";
        swedish: "Mått";
        polish: "Wymiary";
        chinese: "尺寸";
        japanese: "寸法";
    }
    DIAGONAL_1 {
        english: "1st diagonal", "First diagonal", "Diagonal one", "Diagonal A", "Diag 1", "Diagonal BL to TR";
    }
    DIAGONAL_2 {
        english: "2nd diagonal", "Second diagonal", "Diagonal two", "Diagonal B", "Diag 2", "Diagonal BR to TL";
    }
    MEASURED {
        english: "Measured with", "Source of sizes";
    }
    RECESS_DEPTH {
        english: "Reveal depth", "Depth of recess", "Depth of reveal", "Recess", "Reveal", "Niche depth", "Depth";
        german: "Laibungstiefe", "Leibungstiefe", "Laibung", "Leibung", "Nischentiefe", "Tiefe";
        french: "Profondeur de tableau", "Profondeur", "Prof", "Embrasure", "Tableau";
        spanish: "Profundidad", "Fondo", "Profundidad del hueco", "Mocheta";
        italian: "Profondità", "Spalletta", "Profondità vano";
        dutch: "Neggediepte", "Negge", "Diepte", "Dagkantdiepte";
        swedish: "Nischdjup", "Smygdjup", "Smyg", "Djup";
        polish: "Głębokość", "Głębokość wnęki", "Ościeże", "Glif";
        chinese: "洞口深度", "深度", "窗台深度";
        japanese: "奥行", "奥行き", "見込み", "抱き";
    }
    HANDLE {
        english: "Projection of handle", "Lever projection", "Knob projection", "Handle projection", "Handle depth", "Handle stands out";
        german: "Griff", "Grifftiefe", "Griffüberstand";
        french: "Poignée", "Saillie de poignée";
        spanish: "Manilla", "Manija", "Tirador";
        italian: "Maniglia", "Sporgenza maniglia";
        dutch: "Kruk", "Greep", "Handgreep";
        swedish: "Handtag", "Handtagsdjup";
        polish: "Klamka";
        chinese: "把手", "执手";
        japanese: "ハンドル", "取手", "把手高";
    }
    TRIM {
        english: "Trim depth", "Casing depth", "Moulding projection", "Casing projection", "Trim projection", "Architrave projection";
    }
    CASING_WIDTH {
        english: "Width of casing", "Casing face width";
    }
    SILL_HEIGHT {
        english: "Sill", "Height of sill", "Sill level", "Cill height", "Cill", "Window sill height", "Sill above floor";
        german: "Brüstungshöhe", "Brüstung", "Fensterbrüstung", "BRH";
        french: "Hauteur d'allège", "Allège";
        spanish: "Altura de antepecho", "Antepecho", "Alféizar";
        italian: "Altezza davanzale", "Davanzale";
        dutch: "Borstweringhoogte", "Borstwering", "Vensterbankhoogte";
        swedish: "Bröstningshöjd", "Bröstning";
        polish: "Wysokość parapetu", "Parapet";
        chinese: "窗台高度", "窗台高", "窗台";
        japanese: "窓台高さ", "腰高", "窓台高";
    }
    MOUNT {
        english: "Mounting", "Mount type", "Inside or outside";
        german: "Montage", "Montageart", "Befestigung";
        french: "Pose", "Type de pose";
        spanish: "Montaje", "Instalación";
        italian: "Montaggio", "Posa";
        dutch: "Plaatsing", "Montagewijze";
        swedish: "Montering", "Monteringssätt";
        polish: "Montaż", "Sposób montażu";
        chinese: "安装方式", "安装";
        japanese: "取付", "取付け", "取付方法";
    }
    PRODUCT {
        english: "Product name", "Blind", "Blind type";
        german: "Produkt", "Erzeugnis";
        french: "Produit";
        spanish: "Producto";
        italian: "Prodotto";
        dutch: "Productnaam";
        swedish: "Produktnamn";
        polish: "Produkt nazwa", "Wyrób";
        chinese: "产品", "产品名称";
        japanese: "製品", "商品", "製品名";
    }
    COLOR {
        english: "Blind color", "Slat color", "Louver color";
        german: "Farbe", "Farbton";
        french: "Couleur", "Coloris", "Teinte";
        spanish: "Acabado color", "Color de persiana";
        italian: "Colore", "Tinta";
        dutch: "Kleur";
        swedish: "Färg", "Kulör";
        polish: "Kolor", "Barwa";
        chinese: "颜色", "色";
        japanese: "色番", "カラー", "色名";
    }
    DEPTH_TO {
        english: "Depth measured to", "Depth taken to", "Recess depth to";
    }
    WALL_LEFT {
        english: "Left wall", "Free wall left", "Wall at left", "Wall to left", "Wall space left", "Left return";
    }
    WALL_RIGHT {
        english: "Right wall", "Free wall right", "Wall at right", "Wall to right", "Wall space right", "Right return";
    }
    WALL_ABOVE {
        english: "Wall over", "Space above", "Free wall above", "Wall above opening", "Clear above", "Above opening", "Headroom above";
    }
    WALL_BELOW {
        english: "Wall under", "Space below", "Free wall below", "Wall below sill", "Wall below opening", "Clear below", "Below sill", "Below opening";
    }
    BELOW_STANDS_OUT {
        english: "Below projects", "Counter depth", "Counter projection", "Radiator projection", "Sill board projection";
    }
    LEFT_ENDS_AT {
        english: "Ends at left", "Left wall ends at", "Left stops at";
    }
    RIGHT_ENDS_AT {
        english: "Ends at right", "Right wall ends at", "Right stops at";
    }
    HEAD_HEIGHT {
        english: "Height of head", "Head level", "Head above floor", "Top of opening", "Head elevation", "Lintel level";
    }
    FLOOR_SURFACE {
        english: "Floor covering", "Surface of floor";
    }
    FLOOR_TO_COME {
        english: "Flooring thickness", "Floor still to come", "Floor finish to come", "Floor build-up";
    }
    HEADER_HEIGHT {
        english: "Height of header", "Header depth", "Lintel height", "Lintel depth", "Header";
    }
    HEADER_OFFSET {
        english: "Offset of header", "Lintel offset", "Header starts at";
    }
    DROP_WANTED {
        english: "Drop required", "Desired drop", "Finished drop";
    }
    OPENING_LEAF {
        english: "Active leaf", "Moving leaf", "Operating leaf", "Leaf that opens", "Which leaf opens";
    }
    OPENS {
        english: "How it opens", "Opening direction";
    }
    DRAW {
        english: "Draw side", "Stack side", "Stack", "Stacks";
    }
    CONTROL {
        english: "Control type", "Control method", "Operated by";
    }
    MOTOR_SIDE {
        english: "Side of motor", "Motor end", "Motor at", "Motor hand";
    }
    CORD_DEVICE {
        english: "Cord safety device", "Safety device", "Device for cord";
    }
    CORD_HEIGHT {
        english: "Height of cord", "Cleat height", "Cord device height";
    }
    SUBSTRATE {
        english: "Fix into", "Fixed to", "Wall material", "Wall construction";
    }
    SPECIES {
        english: "Wood species", "Timber species", "Species of wood", "Lumber species";
    }
    STEEL_THICKNESS {
        english: "Thickness of steel", "Steel stud thickness", "Stud thickness", "Mil thickness";
    }
    BOARD_LAYERS {
        english: "Layers of board", "Drywall layers", "Plasterboard layers", "Number of layers", "Layers";
    }
    BOARD_THICKNESS {
        english: "Thickness of board", "Drywall thickness", "Plasterboard thickness", "Wallboard thickness", "Gypsum thickness";
    }
    STUD_SPACING {
        english: "Spacing of studs", "Stud centers", "Stud spacing o.c.", "Studs at";
    }
    FIRST_STUD {
        english: "First stud at", "First stud from left", "Stud from left edge", "First stud center";
    }
    BLOCKING {
        english: "Wood blocking", "Blocking behind", "Blocked", "Noggings", "Backing";
    }
    SLAB {
        english: "Slab type", "Type of slab", "Concrete slab", "Ceiling slab";
    }
    HEATER_BELOW {
        english: "Heater", "Radiator below", "Radiator", "Heating below";
    }
    ACCESSIBLE {
        english: "Accessible unit", "Accessibility", "Barrier free", "Wheelchair", "ADA";
    }
    ESCAPE {
        english: "Egress", "Escape window", "Escape opening", "Egress window", "Egress opening", "Means of escape", "Emergency exit", "Emergency escape";
    }
    ESCAPE_CLEAR_WIDTH {
        english: "Egress clear width", "Clear width for escape", "Net clear width", "Sash clear width";
    }
    ESCAPE_CLEAR_HEIGHT {
        english: "Egress clear height", "Clear height for escape", "Net clear height", "Sash clear height";
    }
    NOTE {
        english: "Comments", "Remarks", "Notes", "Comment", "Remark";
        german: "Bemerkung", "Bemerkungen", "Anmerkung", "Anmerkungen", "Notiz", "Kommentar";
        french: "Remarque", "Remarques", "Commentaire", "Commentaires", "Observations";
        spanish: "Observaciones", "Nota", "Notas", "Comentarios";
        italian: "Osservazioni", "Commenti", "Annotazioni";
        dutch: "Opmerking", "Opmerkingen", "Toelichting";
        swedish: "Anmärkning", "Anmärkningar", "Anm", "Notering";
        polish: "Uwagi", "Uwaga", "Komentarz";
        chinese: "备注", "说明", "注释";
        japanese: "備考", "注記", "メモ";
    }
}

/// Units of length as headings of other languages write them, beside the spellings that a cell may
/// have.
pub const UNITS: &[(&str, Unit)] = &[
    ("zoll", Unit::Inch),
    ("pouce", Unit::Inch),
    ("pouces", Unit::Inch),
    ("pulgada", Unit::Inch),
    ("pulgadas", Unit::Inch),
    ("pulg", Unit::Inch),
    ("pollice", Unit::Inch),
    ("pollici", Unit::Inch),
    ("duim", Unit::Inch),
    ("tum", Unit::Inch),
    ("cal", Unit::Inch),
    ("cale", Unit::Inch),
    ("英寸", Unit::Inch),
    ("インチ", Unit::Inch),
    ("pied", Unit::Foot),
    ("pieds", Unit::Foot),
    ("pies", Unit::Foot),
    ("英尺", Unit::Foot),
    ("フィート", Unit::Foot),
    ("millimètre", Unit::Millimeter),
    ("millimètres", Unit::Millimeter),
    ("milímetros", Unit::Millimeter),
    ("millimetri", Unit::Millimeter),
    ("milimetry", Unit::Millimeter),
    ("毫米", Unit::Millimeter),
    ("ミリ", Unit::Millimeter),
    ("ミリメートル", Unit::Millimeter),
    ("㎜", Unit::Millimeter),
    ("zentimeter", Unit::Centimeter),
    ("centimètres", Unit::Centimeter),
    ("centímetros", Unit::Centimeter),
    ("centimetri", Unit::Centimeter),
    ("centymetry", Unit::Centimeter),
    ("厘米", Unit::Centimeter),
    ("センチ", Unit::Centimeter),
    ("㎝", Unit::Centimeter),
    ("mètres", Unit::Meter),
    ("metros", Unit::Meter),
    ("metri", Unit::Meter),
    ("metry", Unit::Meter),
    ("米", Unit::Meter),
    ("メートル", Unit::Meter),
];
