using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>
/// About a hundred contributions that are sound but for one text of enormous length: in every format, at every place that takes a text, in
/// shapes that make a search go back again and again. It needs nothing but the example of the schema, so that any test project can link
/// this file and write them into an inbox. The same seed and length give the same bytes.
/// </summary>
internal static class HostileCells
{
    private static readonly string[] Tables = ["sites", "lots", "bags", "samples"];

    private const string WideHeader = "Site,Lat,Lon,Hole,Bag type,Lot,Weight before (g),Weight after (g),Buried,Dug up,Depth (cm),Remarks";
    private static readonly string[] WideRows =
    [
        "meadow-1,47.3103,-11.2042,1,fast,F-07,2.34,0.98,2024-04-14,2024-07-16,8,",
        "meadow-1,47.3103,-11.2042,1,slow,S-03,2.29,1.86,2024-04-14,2024-07-16,8,",
    ];

    private const string Mapping = """
        version: 1
        one_row_is: bag
        package: { name: NAME, contributor: example-school, campaign: 2024-spring, protocol: p1, licence: CC-BY-4.0, revision: 1 }
        sites:
          site_id: { column: "Site" }
          decimal_latitude: { column: "Lat" }
          decimal_longitude: { column: "Lon" }
        lots:
          - { lot_id: "F-07", role: fast, hydrolysable_fraction: 0.78, hydrolysable_fraction_sd: 0.02, tare_g: 0.25 }
          - { lot_id: "S-03", role: slow, hydrolysable_fraction: 0.51, hydrolysable_fraction_sd: 0.04, tare_g: 0.25 }
        bags:
          bag_id: { pattern: "{Site}-{Hole}-{Bag type}" }
          burial_id: { pattern: "{Site}-{Hole}" }
          site_id: { column: "Site" }
          lot_id: { column: "Lot" }
          role: { column: "Bag type", words: { f: fast } }
          mass_initial_g: { column: "Weight before (g)", unit: mg }
          mass_final_g: { column: "Weight after (g)", unit: mg }
          mass_basis: { value: gross }
          buried_on: { column: "Buried" }
          retrieved_on: { column: "Dug up" }
          depth_cm: { column: "Depth (cm)" }
          notes: { column: "Remarks" }
        leave_out: []

        """;

    /// <summary>Texts that look like the start of what is searched for, over and over, and never are it.</summary>
    private static readonly string[] Pieces =
        ["a", "a@", "a@b", "(at)", "a (at) b.", "[ at", "%40", "+1 ", "+1(", "001 ", "00", "0", "1.", "{Site}", "{", "é", "\t", "- ",
        "a b ", "\uD83C\uDF31", "x=y ", "/", "~1"];

    /// <summary>Writes the contributions, one entry of the folder each (a table with its mapping is two).</summary>
    /// <param name="example">The folder of the example contribution, schemas/v1/example.</param>
    /// <param name="letters">Length of each hostile text.</param>
    /// <returns>The path of each contribution, in order.</returns>
    public static IReadOnlyList<string> Write(string folder, string example, int letters, int seed = 1)
    {
        Directory.CreateDirectory(folder);
        Writer writer = new(folder, example, letters, new Random(seed));
        writer.Packages();
        writer.Descriptors();
        writer.Workbooks();
        writer.WideTables();
        writer.Mappings();
        return writer.Made;
    }

    private sealed class Writer(string folder, string example, int letters, Random random)
    {
        private readonly List<string> _made = [];
        private int _shape;

        public IReadOnlyList<string> Made => _made;

        public void Packages()
        {
            foreach ((string table, string column) in new[]
            {
                ("sites", "site_id"), ("sites", "decimal_latitude"), ("sites", "coordinates_sensitive"), ("sites", "country_code"),
                ("sites", "ecosystem"), ("sites", "management_note"), ("sites", "notes"), ("sites", "site_name"),
                ("lots", "lot_id"), ("lots", "role"), ("lots", "chemistry_source"), ("bags", "bag_id"), ("bags", "burial_id"),
                ("bags", "site_id"), ("bags", "lot_id"), ("bags", "plot"),
                ("bags", "mass_initial_g"), ("bags", "buried_on"), ("bags", "condition"), ("bags", "notes"), ("samples", "accession"),
                    ("samples", "archive"),
            })
            {
                Package(files => SetCell(files, table, 1, column, Quoted(Text())));
            }
            // the search for an address, from the one letter that makes it begin
            foreach (string end in new[] { "(", "@", "%", "[ at ]", "+", "0" })
                Package(files => SetCell(files, "bags", 1, "notes", Quoted(new string('a', letters) + end)));
            Package(files => SetCell(files, "bags", 0, "notes", Quoted(Text())));
            Package(files => files["bags.csv"] = "\"" + string.Concat(Enumerable.Repeat("a\n", letters / 2)) + "\"," + files["bags.csv"]);
            Package(files =>
                files["bags.csv"] =
                    "\"a\n\"," + string.Join(',', Enumerable.Range(0, letters / 8).Select(i => Inv($"c{i}"))) + files["bags.csv"]);
            Package(files =>
                files["sites.csv"] =
                    string.Join(',', Enumerable.Range(0, letters / 8).Select(i => Inv($"plot{i}"))) + "," + files["sites.csv"]);
            Package(files =>
                files["bags.csv"] += string.Concat(Enumerable.Range(0, letters / 40)
                    .Select(i => Inv($"b{i},b{i},unknown-site-of-some-length-{i},A,1,X{i},fast\n"))));
            Package(files =>
                files["bags.csv"] += string.Concat(Enumerable.Range(0, letters / 60)
                    .Select(i =>
                        Inv($"bag-{i},u-{i},meadow-{i},A,1,F-{i},fast,,2.06,0.97,gross,,,,oven,70,,,,2024-05-14,2024-08-12,8,intact,")
                            + "yes,,0.01,,,\n")));
            string entry = Path.Combine(folder, Name("zip") + ".zip");
            using (ZipArchive zip = ZipFile.Open(entry, ZipArchiveMode.Create))
            {
                foreach ((string name, string text) in Files("zip"))
                    Put(zip, name, text);
                Put(zip, new string('a', Math.Min(letters, 60_000)) + ".csv", "a");
            }
            _made.Add(entry);
        }

        public void Descriptors()
        {
            foreach ((string old, Func<string> @new) in new (string, Func<string>)[]
            {
                ("\"example-group\"", () => Json(Text())), ("\"example-2024\"", () => Json(Text())),
                ("\"two-litters-90-days\"", () => Json(Text())), ("\"2024-09-02\"", () => Json("2024-09-02T" + new string('1', letters))),
                ("\"A small example: two sites, four burials\"", () => Json(Text())),
                ("\"CC-BY-4.0\"", () => Json(new string(' ', letters))), ("\"group@example.org\"", () => Json(Text())),
                ("\"bags.csv\"", () => Json(string.Concat(Enumerable.Repeat("a/", letters / 2)))),
                ("\"decayatlas-contribution-1\"", () => Json(Text())),
                ("\"revision\": 1", () => Json(Text()) + ": 1"), ("\"revision\": 1", () => "\"revision\": " + new string('9', letters)),
                ("\"revision\": 1", () => "\"a\": " + new string('[', letters)),
                ("\"revision\": 1", () => string.Join(", ", Enumerable.Range(0, letters / 12).Select(i => Inv($"\"revison{i}\": 1")))),
                ("\"licenses\": [", () => "\"licenses\": [" + string.Concat(Enumerable.Repeat("{},", letters / 3))),
                ("\"resources\": [", () => "\"resources\": [" + string.Concat(Enumerable.Repeat("{},", letters / 3))),
                ("\"contributors\": [", () => "\"contributors\": [" + string.Concat(Enumerable.Repeat("1,", letters / 2))),
            })
            {
                Package(files => files["datapackage.json"] = files["datapackage.json"].Replace(old, @new(), StringComparison.Ordinal));
            }
        }

        public void Workbooks()
        {
            foreach ((string sheet, int row, string column) in new[]
            {
                ("sites", 1, "notes"), ("sites", 1, "decimal_latitude"), ("sites", 1, "ecosystem"), ("lots", 1, "lot_id"),
                ("bags", 1, "bag_id"), ("bags", 1, "site_id"), ("bags", 1, "buried_on"),
                ("bags", 1, "mass_final_g"), ("bags", 1, "notes"), ("bags", 0, "notes"), ("samples", 1, "archive"),
                    ("package", 1, "value"), ("package", 2, "name"), ("package", 4, "value"),
            })
            {
                Book(sheets => Row(sheets, sheet, row)[Array.IndexOf(Row(sheets, sheet, 0), column)] = XmlText());
            }

            Book(sheets => Row(sheets, "bags", 1)[^1] = new string('a', letters) + "(");
            Book(sheets => sheets.Add((XmlText(), [["a"]])));
            Book(sheets => sheets.AddRange(Enumerable.Range(0, letters / 50).Select(i => (Inv($"s{i}"), new List<string[]>()))),
                sharesPart: true);
        }

        public void WideTables()
        {
            foreach (int column in Enumerable.Range(0, 12))
                Wide(rows => rows[1] = With(rows[1], column, Quoted(Text())), mapping => mapping);
            Wide(rows => rows[1] = With(rows[1], 11, Quoted(new string('a', letters) + "(")), mapping => mapping);
            Wide(rows => rows[0] = With(rows[0], 11, Quoted(Text())), mapping => mapping);
            // wide ids: rows of one site each, with ids that nearly are those of the table that they name
            Wide(rows =>
                rows.AddRange(Enumerable.Range(0, letters / 100)
                    .Select(i => With(With(rows[1], 0, new string('s', 60) + Inv($"{i}")), 5, Inv($"F-{i}")))), mapping => mapping);
        }

        public void Mappings()
        {
            string sites = string.Concat(Enumerable.Repeat("{Site}", letters / 6));
            (string Old, Func<string> New)[] changes =
            [
                ("\"{Site}-{Hole}\"", () => Json(sites)), ("\"{Site}-{Hole}\"", () => Json(new string('{', letters))),
                ("\"{Site}-{Hole}\"", () => Json(string.Concat(Enumerable.Range(0, letters / 8).Select(i => Inv($"{{c{i}}}"))))),
                ("\"Remarks\"", () => Json(Text())), ("\"Site\"", () => Json(Text())), ("gross", () => Json(Text())),
                ("{ f: fast }", () => "{ " + Json(Text()) + ": fast }"), ("{ f: fast }", () => "{ f: " + Json(Text()) + " }"),
                ("{ f: fast }", () => "{ f: fast, \" f\": slow }"), ("2024-spring", () => Json(Text())), ("p1", () => Json(Text())),
                ("CC-BY-4.0", () => Json(new string('a', letters) + "(")), ("mg }", () => Json(Text()) + " }"),
                ("leave_out: []", () =>
                    "leave_out: [" + string.Join(", ", Enumerable.Range(0, letters / 8).Select(i => Inv($"c{i}"))) + "]"),
                ("leave_out: []", () => "leave_out: [" + Json(Text()) + "]"),
                ("leave_out: []", () =>
                    "undecided: [" + string.Join(", ", Enumerable.Range(0, letters / 8).Select(i => Inv($"c{i}"))) + "]"),
                ("leave_out: []", () => Json(Text()) + ": 1"), ("leave_out: []", () => "leave_out: " + new string('[', letters)),
                ("leave_out: []", () => "leave_out: " + new string('{', letters)),
                ("leave_out: []", () => "? " + string.Concat(Enumerable.Repeat("- ", letters / 2))),
                ("leave_out: []", () => string.Concat(Enumerable.Repeat("TODO: ", letters / 6))),
                ("leave_out: []", () => "leave_out: [" + string.Concat(Enumerable.Repeat("TODO, ", letters / 6)) + "TODO]"),
                ("leave_out: []", () =>
                    "x: &a0 [1]\n" + string.Concat(Enumerable.Range(1, 40).Select(i => Inv($"x{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n")))
                    + "y: { ? *a40 : 1 }"),
                ("leave_out: []", () =>
                    "x: &a0 [1]\n" + string.Concat(Enumerable.Range(1, 40).Select(i => Inv($"x{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n")))),
                ("leave_out: []", () => Json(new string('k', 1990)) + ": [" + string.Concat(Enumerable.Repeat("1, ", letters / 3)) + "1]"),
            ];
            foreach ((string old, Func<string> @new) in changes)
                Wide(_ => { }, mapping => mapping.Replace(old, @new(), StringComparison.Ordinal));
            // both at once: the pattern multiplies what the cell holds
            Wide(rows => rows[1] = With(rows[1], 0, new string('s', letters)),
                mapping => mapping.Replace("\"{Site}-{Hole}\"", Json(sites), StringComparison.Ordinal));
            Wide(rows => rows[1] = With(rows[1], 0, new string('s', letters)),
                mapping => mapping.Replace("\"{Site}-{Hole}\"", Json(sites[..Math.Min(480, sites.Length)]), StringComparison.Ordinal));
        }

        /// <summary>The next shape: one piece over and over, or several in any order.</summary>
        private string Text()
        {
            StringBuilder text = new(letters + 16);
            bool isMixed = _shape % 4 == 3;
            string one = Pieces[_shape++ % Pieces.Length];
            while (text.Length < letters)
                text.Append(isMixed ? Pieces[random.Next(Pieces.Length)] : one);
            return text.ToString();
        }

        private string XmlText() => Text().Replace('\t', ' ');

        private void Package(Action<Dictionary<string, string>> spoil)
        {
            string name = Name("package");
            Dictionary<string, string> files = Files(name);
            spoil(files);
            string target = Path.Combine(folder, name);
            Directory.CreateDirectory(target);
            foreach ((string file, string text) in files)
                File.WriteAllText(Path.Combine(target, file), text);
            _made.Add(target);
        }

        private Dictionary<string, string> Files(string name)
        {
            Dictionary<string, string> files = Tables.Select(table => table + ".csv").Append("datapackage.json")
                .ToDictionary(file => file, file => File.ReadAllText(Path.Combine(example, file)).ReplaceLineEndings("\n"),
                    StringComparer.Ordinal);
            files["datapackage.json"] = files["datapackage.json"]
                .Replace("example-meadow-and-wood", "hostile-" + name, StringComparison.Ordinal);
            return files;
        }

        private void Book(Action<List<(string Name, List<string[]> Rows)>> spoil, bool sharesPart = false)
        {
            string name = Name("book");
            List<(string Name, List<string[]> Rows)> sheets =
            [
                ("package", [["name", "value"], ["name", "hostile-" + name], ["licence", "CC-BY-4.0"], ["contributor", "example-group"],
                    ["campaign", "example-2024"], ["protocol", "two-litters"]]),
                .. Tables.Select(table => (table, File.ReadAllLines(Path.Combine(example, table + ".csv")).Select(Cells).ToList())),
            ];
            spoil(sheets);
            _made.Add(Path.Combine(folder, name + ".xlsx"));
            using ZipArchive zip = ZipFile.Open(_made[^1], ZipArchiveMode.Create);
            const string types = "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
                main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
            const string relations = "http://schemas.openxmlformats.org/package/2006/relationships";
            string PartOf(int sheet) => Inv($"worksheets/sheet{(sharesPart ? Math.Min(sheet, 5) : sheet)}.xml");
            Put(zip, "[Content_Types].xml",
                "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"xml\" "
                + "ContentType=\"application/xml\"/></Types>");
            Put(zip,
                "_rels/.rels", $"<Relationships xmlns=\"{relations}\"><Relationship Id=\"r1\" Type=\"{types}/officeDocument\" "
                + "Target=\"xl/workbook.xml\"/></Relationships>");
            Put(zip, "xl/workbook.xml", $"<workbook xmlns=\"{main}\" xmlns:r=\"{types}\"><sheets>"
                + string.Concat(
                    sheets.Select((sheet, i) =>
                        Inv($"<sheet name=\"{SecurityElement.Escape(sheet.Name)}\" sheetId=\"{i + 1}\" r:id=\"s{i + 1}\"/>")))
                        + "</sheets></workbook>");
            Put(zip, "xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"{relations}\">"
                + string.Concat(
                    sheets.Select((_, i) => Inv($"<Relationship Id=\"s{i + 1}\" Type=\"{types}/worksheet\" Target=\"{PartOf(i + 1)}\"/>")))
                    + "</Relationships>");
            for (int i = 0; i < (sharesPart ? 5 : sheets.Count); i++)
            {
                Put(zip,
                    Inv($"xl/worksheets/sheet{i + 1}.xml"), $"<worksheet xmlns=\"{main}\"><sheetData>"
                        + string.Concat(
                            sheets[i].Rows
                                .Select((row, r) =>
                                    Inv($"<row r=\"{r + 1}\">{string.Concat(row.Select((cell, c) => CellXml(cell, r, c)))}</row>")))
                                    + "</sheetData></worksheet>");
            }
        }

        private void Wide(Action<List<string>> spoilTable, Func<string, string> spoilMapping)
        {
            string name = Name("wide");
            List<string> rows = [WideHeader, .. WideRows];
            spoilTable(rows);
            _made.Add(Path.Combine(folder, name + ".csv"));
            File.WriteAllLines(_made[^1], rows);
            File.WriteAllText(Path.Combine(folder, name + ".mapping.yaml"),
                spoilMapping(Mapping.Replace("NAME", "hostile-" + name, StringComparison.Ordinal)));
        }

        private string Name(string kind) => Inv($"{_made.Count:000}-{kind}");
    }

    private static string[] Row(List<(string Name, List<string[]> Rows)> sheets, string sheet, int row) =>
        sheets.First(known => known.Name == sheet).Rows[row];

    private static void SetCell(Dictionary<string, string> files, string table, int row, string column, string cell)
    {
        string[] lines = files[table + ".csv"].TrimEnd('\n').Split('\n');
        lines[row] = With(lines[row], Array.IndexOf(lines[0].Split(','), column), cell);
        files[table + ".csv"] = string.Join('\n', lines) + "\n";
    }

    private static string With(string line, int column, string cell)
    {
        string[] cells = Cells(line, keepsQuotes: true);
        cells[column] = cell;
        return string.Join(',', cells);
    }

    private static string[] Cells(string line) => Cells(line, keepsQuotes: false);

    private static string[] Cells(string line, bool keepsQuotes)
    {
        List<string> cells = [];
        bool isQuoted = false;
        StringBuilder cell = new();
        foreach (char c in line)
        {
            isQuoted ^= c == '"';
            if (c == ',' && !isQuoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else if (c != '"' || keepsQuotes)
            {
                cell.Append(c);
            }
        }
        return [.. cells, cell.ToString()];
    }

    private static string Quoted(string text) => "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";

    private static string Json(string text) => System.Text.Json.JsonSerializer.Serialize(text);

    private static string CellXml(string text, int row, int column)
    {
        string at = Inv($"{(char)('A' + column)}{row + 1}");
        return text.Length == 0 ? ""
            : text.Length < 20
                && double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture,
                    out _) ? $"<c r=\"{at}\"><v>{text}</v></c>"
            : $"<c r=\"{at}\" t=\"inlineStr\"><is><t xml:space=\"preserve\">{SecurityElement.Escape(text)}</t></is></c>";
    }

    private static void Put(ZipArchive zip, string name, string text)
    {
        ZipArchiveEntry entry = zip.CreateEntry(name);
        entry.LastWriteTime = new DateTimeOffset(2024, 1, 1, 0, 0, 0, TimeSpan.Zero);
        using Stream stream = entry.Open();
        stream.Write(Encoding.UTF8.GetBytes(text));
    }

    private static string Inv(FormattableString text) => FormattableString.Invariant(text);
}
