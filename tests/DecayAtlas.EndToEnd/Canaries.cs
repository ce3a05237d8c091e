using System.IO.Compression;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>
/// Contributions with one text of a sender in each place where a sender can write one: names of folders, files and sheets, columns, cells,
/// ids, keys and values of descriptor and mapping. All are refused, since what is accepted is published by design.
/// </summary>
internal sealed class Canaries(string inbox)
{
    /// <summary>An exact place, a name, a telephone number without the prefix of a country, an address, a street.</summary>
    private static readonly string[] Texts =
    [
        "48.76543 -12.34567", "Wilhelmine Quastenflosser", "0664 5550199", "w.quastenflosser@example.org", "Krummgasse 17",
        "behind the house of Quastenflosser, Krummgasse 17 tel 0664/5550199",
    ];

    /// <summary>Each text above has one of these, and nothing of ours does.</summary>
    public static readonly string[] Telling = ["48.76543", "48,76543", "12.34567", "quastenflosser", "5550199", "krummgasse"];

    private int _made;

    private static string Example => Project.PathOf("schemas/v1/example");

    private static string ExampleOfResults => Project.PathOf("schemas/v1/example-results");

    private string Next => Texts[_made++ % Texts.Length];

    /// <summary>Writes them all.</summary>
    /// <returns>How many entries the inbox has now.</returns>
    public int Write()
    {
        Packages();
        Zips();
        Workbooks();
        WideTables();
        WideMeans();
        Others();
        return Directory.GetFileSystemEntries(inbox).Length;
    }

    private string FolderOf(string name) => Directory.CreateDirectory(Path.Combine(inbox, name)).FullName;

    /// <summary>The schema's example, refused for a sample of no bag or a result of no site, which is told last, and with one more
    /// change.</summary>
    private string Package(string kind, Func<string, string, string>? edit = null, string? from = null)
    {
        string folder = FolderOf($"package {kind} {_made}");
        foreach (string file in Directory.GetFiles(from ?? Example))
        {
            string name = Path.GetFileName(file), text = File.ReadAllText(file);
            if (name == "samples.csv")
                text += "no-such-sample,no-such-bag,16S rRNA,,EXAMPLE000003,,,,,,,,,\n";
            else if (name == "results.csv")
                text += "no-such-result,no-such-site,,reported,1,2019-05-06" + new string(',', 21) + "\n";
            else if (name == "datapackage.json")
                text = Regex.Replace(text, "example-(meadow-and-wood|bog-summaries)", $"c-{_made}");
            File.WriteAllText(Path.Combine(folder, name), edit?.Invoke(name, text) ?? text);
        }

        return folder;
    }

    private void Descriptor(string kind, Action<JsonObject, string> edit)
    {
        foreach (string text in Texts)
        {
            Package("descriptor " + kind, (file, old) =>
            {
                if (file != "datapackage.json")
                    return old;
                JsonObject root = JsonNode.Parse(old)!.AsObject();
                edit(root, text);
                return root.ToJsonString();
            });
            _made++;
        }
    }

    private void Packages()
    {
        string[] keys =
            ["profile", "name", "revision", "title", "description", "created", "licenses", "contributors", "contributor", "campaign",
            "protocol", "resources"];
        foreach (string key in keys)
            Descriptor(key, (root, text) => root[key] = text);
        Descriptor("key", (root, text) => root[text] = 1);
        Descriptor("near key", (root, text) => (root["contributors"]![0]![text], root["contributors"]![0]!["title"]) = (text, 5));
        foreach (string key in new[] { "name", "path", "title" })
            Descriptor("licence " + key, (root, text) => root["licenses"]![0]![key] = text);
        foreach (string key in new[] { "title", "email", "path", "role", "organization" })
            Descriptor("contact " + key, (root, text) => root["contributors"]![0]![key] = new JsonArray(text));
        foreach (string key in new[] { "name", "path", "format", "mediatype", "encoding", "title" })
            Descriptor("resource " + key, (root, text) => root["resources"]![0]![key] = text);
        Descriptor("resource key", (root, text) => root["resources"]![0]![text] = text);
        Descriptor("missing file", (root, text) => root["resources"]![0]!["path"] = text.Replace('/', '-') + ".csv");
        Descriptor("unsafe path", (root, text) => root["resources"]![0]!["path"] = $"../{text}/{text}.csv");
        foreach (string text in Texts)
        {
            _made++;
            Package("broken descriptor", (file, old) => file == "datapackage.json"
                ? old.Replace("\"revision\"", $"\"{text}\" {text} \"revision\"", StringComparison.Ordinal) : old);
        }

        foreach (string table in new[] { "sites", "lots", "bags", "samples" })
            Table(table, Example);
        Table("results", ExampleOfResults);
        NamesOfFiles();
    }

    private void Table(string table, string folder)
    {
        string[] header = File.ReadLines(Path.Combine(folder, table + ".csv")).First().Split(',');
        for (int column = 0; column < header.Length; column++)
        {
            Lines("cell", 1, (cells, text) => cells[column] = text);
            Lines("column", 0, (cells, text) => cells[column] = text);
        }

        Lines("dotted column", 0, (cells, text) => cells[1] = "sites." + text);
        Lines("pointer column", 0, (cells, text) => cells[1] = "/contributors/0/" + text);
        Lines("further column", 0, (cells, text) => cells[^1] += ',' + text);
        Lines("further cell", 1, (cells, text) => cells[^1] += ',' + text);
        Lines("open quote", 1, (cells, text) => cells[0] = '"' + text);
        Whole("no header",
            (text, old) => $"{string.Join(',', Texts)}\n{string.Join('\n', old.Split('\n').Skip(1).Append($"{text},{text}\n"))}");
        Whole("other separator", (text, old) => old.Replace(',', ';') + text);
        Whole("no UTF-8", (text, old) => old + text + "\0");

        void Lines(string kind, int row, Action<string[], string> edit) => Whole($"{kind} {row}", (text, old) =>
        {
            string[] lines = old.Split('\n');
            string[] cells = lines[row].Split(',');
            edit(cells, text.Replace(',', ' '));
            lines[row] = string.Join(',', cells);
            return string.Join('\n', lines);
        });

        void Whole(string kind, Func<string, string, string> edit)
        {
            string text = Next;
            Package($"{table} {kind}", (file, old) => file == table + ".csv" ? edit(text, old) : old, folder);
        }
    }

    private void NamesOfFiles()
    {
        foreach (string text in Texts.Select(text => text.Replace('/', '-')))
        {
            _made++;
            Directory.Move(Package("name"), Path.Combine(inbox, text));
            File.WriteAllText(Path.Combine(Package("unlisted table"), text + ".csv"), "a,b\n");
            File.WriteAllText(Path.Combine(Package("stray"), text), text);
            File.CreateSymbolicLink(Path.Combine(Package("link inside"), text), Path.Combine(inbox, text));
            File.WriteAllText(Path.Combine(Package("hostile name"), text + "\u202E"), text);
            // a table under a name of the sender's, with a cell that is wrong
            string folder = Package("named table", (file, old) => file switch
            {
                "datapackage.json" => old.Replace("sites.csv", $"{text}/{text}.csv", StringComparison.Ordinal),
                "sites.csv" => old.Replace("47.32871", text, StringComparison.Ordinal),
                _ => old,
            });
            Directory.CreateDirectory(Path.Combine(folder, text));
            File.Move(Path.Combine(folder, "sites.csv"), Path.Combine(folder, text, text + ".csv"));
            // an id that others have
            Package("taken id", (file, old) => file switch
            {
                "datapackage.json" => Regex.Replace(old, "c-\\d+", "sound").Replace("A small example", text, StringComparison.Ordinal),
                "samples.csv" => File.ReadAllText(Path.Combine(Example, file)),
                _ => old,
            });
        }
    }

    private void Zips()
    {
        foreach (string text in Texts.Select(text => text.Replace('/', '-')))
        {
            _made++;
            string cell = text.Replace(',', ' ');
            string folder =
                Package("zipped", (file, old) => file == "sites.csv" ? old.Replace("47.32871", cell, StringComparison.Ordinal) : old);
            File.WriteAllText(Path.Combine(folder, text + ".csv"), text);
            ZipFile.CreateFromDirectory(folder, Path.Combine(inbox, text + " .zip"));
            Directory.Delete(folder, recursive: true);
            using (ZipArchive zip = ZipFile.Open(Path.Combine(inbox, text + " unsafe.zip"), ZipArchiveMode.Create))
            {
                zip.CreateEntry($"../{text}");
                zip.CreateEntry(text + ".csv");
                zip.CreateEntry(text.ToUpperInvariant() + ".csv");
            }

            File.WriteAllText(Path.Combine(inbox, text + " broken.zip"), text);
        }
    }

    private static string[][] Cells(string table, string? folder = null) =>
        [.. File.ReadLines(Path.Combine(folder ?? Example, table + ".csv"))
            .Select(line => line.Replace("\"", "", StringComparison.Ordinal).Split(','))];

    private void Workbooks()
    {
        foreach (string text in Texts.Select(text => text.Replace('/', '-')))
        {
            Book("cell", sheets => sheets["sites"][1][1] = text);
            Book("column", sheets => sheets["sites"][0][1] = text);
            Book("beyond", sheets => sheets["lots"][1] = [.. sheets["lots"][1], text]);
            Book("entry", sheets => sheets["package"][1][0] = text);
            foreach (int column in new[] { 0, 2, 8, 26 })
            {
                Book($"result {column}", sheets =>
                {
                    sheets["results"] = Cells("results", ExampleOfResults);
                    sheets["results"][1][column] = text;
                });
            }

            for (int entry = 1; entry < 8; entry++)
                Book($"value {entry}", sheets => sheets["package"][entry][1] = text);
            Book("near sheet", sheets => sheets["sitess"] = [[text]]);
            Book("sheet", sheets =>
            {
                sheets[text.Length > 31 ? text[..31] : text] = sheets["bags"];
                sheets.Remove("bags");
            });

            void Book(string kind, Action<Dictionary<string, string[][]>> edit)
            {
                Dictionary<string, string[][]> sheets = new()
                {
                    ["package"] =
                    [
                        ["name", "value"], ["name", $"w-{_made}"], ["revision", "1"], ["created", "2024-09-02"], ["licence", "CC-BY-4.0"],
                        ["contributor", "g1"], ["campaign", "c"], ["protocol", "p"], ["contact_name", text],
                    ],
                    ["sites"] = Cells("sites"),
                    ["lots"] = Cells("lots"),
                    ["bags"] = Cells("bags"),
                    ["samples"] = [.. Cells("samples"), ["no-such-bag", "EXAMPLE000003", "16S", ""]],
                };
                edit(sheets);
                MinimalWorkbook.Write(
                    Path.Combine(inbox, $"{text} {kind} {_made++}.xlsx"), [.. sheets.Select(sheet => (sheet.Key, sheet.Value))]);
            }
        }
    }

    private void WideTables()
    {
        string table = File.ReadAllText(Project.PathOf("docs/examples/results.csv"));
        string mapping = File.ReadAllText(Project.PathOf("docs/examples/results.mapping.yaml"));
        foreach (string text in Texts.Select(text => text.Replace('/', '-')))
        {
            Wide("cell", (t, m) => (t.Replace("-11,2042", text, StringComparison.Ordinal), m));
            Wide("rows at odds",
                (t, m) => (t.Replace("meadow-1;47,3103;-11,2042;2", $"meadow-1;47,3103;{text};2", StringComparison.Ordinal), m));
            Wide("column", (t, m) => (t.Replace("Depth (cm)", text, StringComparison.Ordinal), m));
            Wide("further column", (t, m) => (t.Replace("\n", $";{text}\n", StringComparison.Ordinal), m));
            Wide("repeated column", (t, m) => ($"{text};{text};{t}", m));
            Wide("separator", (t, m) => (t.Replace(';', '|') + text, m));
            Wide("quote", (t, m) => (t + $"x\"{text};\"", m));
            foreach (string key in new[] { "version", "one_row_is", "leave_out" })
                Wide(key, (t, m) => (t, Regex.Replace(m, $"(?m)^{key}:.*$", $"{key}: \"{text}\"")));
            foreach (string key in new[] { "name", "contributor", "campaign", "protocol", "revision" })
                Wide("package " + key, (t, m) => (t, Regex.Replace(m, $"(?m)^  {key}: .*$", $"  {key}: \"{text}\"")));
            Mapping("package created", "package:\n", $"package:\n  created: \"{text}\"\n");
            foreach (string key in new[] { "separator", "header_row", "decimal_sign", "encoding", "sheet", "date_order" })
            {
                Wide("file " + key, (t, m) =>
                    (t, Regex.Replace(m, $"(?m)^  {key}: .*\n", "")
                        .Replace("file:\n", $"file:\n  {key}: \"{text}\"\n", StringComparison.Ordinal)));
            }

            Wide("undecided", (t, m) => (t, m + $"undecided: [\"{text}\"]\n"));
            Wide("key", (t, m) => (t, m + $"\"{text}\": 1\n"));
            Mapping("section key", "sites:\n", $"sites:\n  \"{text}\": {{ value: 1 }}\n");
            Mapping("package key", "package:\n", $"package:\n  \"{text}\": 1\n");
            Mapping("to do", "\"Lat\"", $"\"TODO {text}\"");
            Mapping("to do key", "package:\n", $"package:\n  \"TODO {text}\": 1\n");
            Mapping("column name", "\"Lat\"", $"\"{text}\"");
            Mapping("pattern", "{Site}-{Hole}\"", $"{{{text}}}\"");
            Mapping("filled pattern", "{Site}-{Hole}\"", $"{text} {{Site}}\"");
            Mapping("fixed value", "value: gross", $"value: \"{text}\"");
            Mapping("unit", "unit: cm", $"unit: \"{text}\"");
            Mapping("lot", "hydrolysable_fraction: 0.78", $"hydrolysable_fraction: \"{text}\"");
            Mapping("lot key", "    hydrolysable_fraction: 0.78", $"    \"{text}\": 1\n    hydrolysable_fraction: 0.78");
            Mapping("words", "column: \"Bag type\" }", $"column: \"Bag type\", words: {{ fast: \"{text}\", \"{text}\": slow }} }}");
            Wide("no YAML", (t, m) => (t, m + $"{text}: [\n  {text}\n"));
            Wide("no mapping", (t, _) => (t, null));
            Wide("no table", (_, m) => (null, m + "# " + text));

            void Mapping(string kind, string old, string changed) =>
                Wide(kind, (t, m) => (t, m.Replace(old, changed, StringComparison.Ordinal)));

            void Wide(string kind, Func<string, string, (string? Table, string? Mapping)> edit)
            {
                // refused whatever the change does: a lot that is not there
                (string? changed, string? itsMapping) = edit(
                    table.Replace("2;slow;S-03", "2;slow;S-99", StringComparison.Ordinal),
                    mapping.Replace("example-school-2024", $"t-{_made}", StringComparison.Ordinal));
                string name = $"{text} {kind} {_made++}";
                if (changed is not null)
                    File.WriteAllText(Path.Combine(inbox, name + ".csv"), changed);
                if (itsMapping is not null)
                    File.WriteAllText(Path.Combine(inbox, name + ".mapping.yaml"), itsMapping);
            }
        }
    }

    private void WideMeans()
    {
        string table = File.ReadAllText(Project.PathOf("docs/examples/means.csv"));
        string mapping = File.ReadAllText(Project.PathOf("docs/examples/means.mapping.yaml"));
        foreach (string text in Texts.Select(text => text.Replace('/', '-')))
        {
            Means("cell", t => t.Replace("0,0124", text, StringComparison.Ordinal), m => m);
            Means("column", t => t.Replace("k se", text, StringComparison.Ordinal), m => m);
            Means("evidence", t => t, m => m.Replace("value: reported", $"value: \"{text}\"", StringComparison.Ordinal));
            Means("section", t => t, m => m.Replace("\nresults:", $"\nbags:\n  notes: {{ value: \"{text}\" }}\nresults:",
                StringComparison.Ordinal));

            void Means(string kind, Func<string, string> ofTable, Func<string, string> ofMapping)
            {
                string name = $"{text} means {kind} {_made++}";
                File.WriteAllText(Path.Combine(inbox, name + ".csv"),
                    ofTable(table.Replace("heath-1;47,4206", "heath-1;north", StringComparison.Ordinal)));
                File.WriteAllText(Path.Combine(inbox, name + ".mapping.yaml"),
                    ofMapping(mapping.Replace("example-means-2019", $"m-{_made}", StringComparison.Ordinal)));
            }
        }
    }

    private void Others()
    {
        foreach (string text in Texts.Select(text => text.Replace('/', '-')))
        {
            File.WriteAllText(Path.Combine(inbox, text + ".pdf"), text);
            File.WriteAllText(Path.Combine(inbox, text + ".xls"), text);
            File.WriteAllText(Path.Combine(inbox, text + ".xlsx"), text);
            FolderOf(text + " empty");
            Directory.CreateSymbolicLink(Path.Combine(inbox, text + " link"), Path.Combine(inbox, text));
        }
    }
}
