using System.IO.Compression;
using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>The contributions of torture/README.md that are no text: workbooks and zips.</summary>
internal static class TortureMaker
{
    // Day numbers of 2024-05-14 and 2024-08-12: 45426 and 45516 in the 1900 system, 1462 less in the 1904 system
    // (Microsoft's support page "Date systems in Excel" gives the difference; from memory).
    private const double Buried = 45426, Retrieved = 45516, From1904 = 1462;

    private static readonly RawCell NotAvailable = new("<c r=\"{at}\" t=\"e\"><f>VLOOKUP(1,A1:B2,2,0)</f><v>#N/A</v></c>");
    private static readonly RawCell FormulaAlone = new("<c r=\"{at}\"><f>1+1</f></c>");
    private static readonly RawCell FormulaWithValue = new("<c r=\"{at}\"><f>2.04+0.02</f><v>2.06</v></c>");

    /// <summary>Mappings that lie beside made tables.</summary>
    public static IReadOnlyDictionary<string, string> Mappings { get; } = new Dictionary<string, string>
    {
        ["wide.xlsx"] = WideMapping(""),
        ["wide-two-sheets.xlsx"] = WideMapping(""),
        ["wide-named-sheet.xlsx"] = WideMapping("file: { sheet: Field data }\n"),
        ["wide-error.xlsx"] = WideMapping(""),
    };

    public static IReadOnlyDictionary<string, Func<byte[]>> Made { get; } = new Dictionary<string, Func<byte[]>>
    {
        ["plain.xlsx"] = () => XlsxMaker.Example().ToBytes(),
        ["dates-1900.xlsx"] = () => Dated(new XlsxDates(serial => new DateCell(serial)), 0, false),
        ["dates-1904.xlsx"] = () => Dated(new XlsxDates(serial => new DateCell(serial)), From1904, true),
        ["day-numbers-unformatted.xlsx"] = () => Dated(new XlsxDates(serial => serial), 0, false),
        ["day-numbers-unformatted-1904.xlsx"] = () => Dated(new XlsxDates(serial => serial), From1904, true),
        ["date-with-time.xlsx"] = () => Dated(new XlsxDates(serial => new DateCell(serial + 0.4375)), 0, false),
        ["year-for-date.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "buried_on", 2024.0).ToBytes(),
        ["formula-with-value.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "mass_initial_g", FormulaWithValue).ToBytes(),
        ["formula-without-value.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "mass_initial_g", FormulaAlone).ToBytes(),
        ["not-available.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "mass_final_g", NotAvailable).ToBytes(),
        ["id-became-date.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "plot", new DateCell(Buried)).ToBytes(),
        ["mass-became-date.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "mass_initial_g", new DateCell(Buried)).ToBytes(),
        ["true-for-yes.xlsx"] = () => XlsxMaker.Example().SetEvery("bags", "unused_material", value => true).ToBytes(),
        ["true-for-mass.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "mass_initial_g", true).ToBytes(),
        ["one-for-yes.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "unused_material", 1.0).ToBytes(),
        ["number-for-text.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "plot", 7.0).ToBytes(),
        ["seventeen-digits.xlsx"] = () => XlsxMaker.Example()
            .Set("bags", 2, "mass_initial_g", new RawCell("<c r=\"{at}\"><v>2.0600000000000001</v></c>")).ToBytes(),
        ["text-number-comma.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "mass_initial_g", "2,06").ToBytes(),
        ["text-date-day-first.xlsx"] = () => XlsxMaker.Example().Set("bags", 2, "buried_on", "14.05.2024").ToBytes(),
        ["rich-text.xlsx"] = () => XlsxMaker.Example()
            .Set("bags", 2, "plot", new RawCell("<c r=\"{at}\" t=\"inlineStr\"><is><r><t>A</t></r><r><t>1</t></r></is></c>")).ToBytes(),
        ["blank-rows.xlsx"] = () => WithBlankRows().ToBytes(),
        ["value-beyond-header.xlsx"] = () => Beyond().ToBytes(),
        ["no-lots-sheet.xlsx"] = () => XlsxMaker.Example().Drop("lots").ToBytes(),
        ["no-package-sheet.xlsx"] = () => XlsxMaker.Example().Drop("package").ToBytes(),
        ["sheet-misspelt.xlsx"] = () => XlsxMaker.Example().Rename("samples", "sample").ToBytes(),
        ["sheet-in-capitals.xlsx"] = () => XlsxMaker.Example().Rename("bags", "Bags").ToBytes(),
        ["further-sheet.xlsx"] = () => XlsxMaker.Example().Sheet("photographs", ["file"], ["one.jpg"]).ToBytes(),
        ["package-name-unknown.xlsx"] = () => XlsxMaker.Example().Set("package", 5, "name", "license").ToBytes(),
        ["package-name-twice.xlsx"] = () => XlsxMaker.Example().Sheet2("package", ["campaign", "another"]).ToBytes(),
        ["package-id-wrong.xlsx"] = () => XlsxMaker.Example().Set("package", 2, "value", "My Results").ToBytes(),
        ["revision-in-words.xlsx"] = () => XlsxMaker.Example().Set("package", 3, "value", "two").ToBytes(),
        ["no-tables.xlsx"] = () => new XlsxMaker().Sheet("Sheet1", ["a", "b"], [1.0, 2.0]).ToBytes(),
        ["empty.xlsx"] = () => [],
        ["cut-off.xlsx"] = () => XlsxMaker.Example().ToBytes()[..2000],
        ["csv-renamed.xlsx"] = () => Encoding.UTF8.GetBytes("site_id,decimal_latitude\n1,2\n"),
        ["older-format.xlsx"] = () => [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, .. new byte[600]],
        ["older-ending.xls"] = () => [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, .. new byte[600]],
        ["open-document.ods"] = () => Zip(("mimetype", "application/vnd.oasis.opendocument.spreadsheet")),
        ["zip-renamed.xlsx"] = () => Zip(("readme", "hello")),
        ["binary-workbook.xlsx"] = () =>
            Zip(("[Content_Types].xml", "<Types/>"),
                ("_rels/.rels", "<Relationships><Relationship Id=\"r\" "
                + "Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" "
                + "Target=\"xl/workbook.bin\"/></Relationships>"), ("xl/workbook.bin", "\u0083\u0001")),
        ["part-twice.xlsx"] = () => Zip(("xl/workbook.xml", "<workbook/>"), ("xl/workbook.xml", "<workbook/>")),
        ["xml-bomb.xlsx"] = () => Spoilt("xl/sharedStrings.xml", XmlBomb()),
        ["xml-outside-entity.xlsx"] = () =>
            Spoilt("xl/sharedStrings.xml", "<!DOCTYPE sst [<!ENTITY x SYSTEM \"file:///etc/passwd\">]><sst><si><t>&x;</t></si></sst>"),
        ["xml-open-tag.xlsx"] = () => Spoilt("xl/workbook.xml", "<workbook><sheets>"),
        ["xml-deep.xlsx"] = () =>
            Spoilt("xl/styles.xml", string.Concat(Enumerable.Repeat("<a>", 500)) + string.Concat(Enumerable.Repeat("</a>", 500))),
        ["zip-bomb.xlsx"] = () => Spoilt("xl/media/image.bin", new string('0', 8 << 20)),
        ["strings-bomb.xlsx"] = () => Spoilt("xl/sharedStrings.xml", "<sst><si><t>" + new string('0', 8 << 20) + "</t></si></sst>"),
        ["row-two-billion.xlsx"] = () =>
            Spoilt("xl/worksheets/sheet2.xml",
                "<worksheet><sheetData><row r=\"2147483647\"><c r=\"A2147483647\"><v>1</v></c></row></sheetData></worksheet>"),
        ["column-far-out.xlsx"] = () =>
            Spoilt("xl/worksheets/sheet2.xml",
                "<worksheet><sheetData><row r=\"1\"><c r=\"ZZZZZZ1\"><v>1</v></c></row></sheetData></worksheet>"),
        ["column-xfd.xlsx"] = () =>
            Spoilt("xl/worksheets/sheet2.xml",
                "<worksheet><sheetData><row r=\"1\"><c r=\"XFD1\"><v>1</v></c></row></sheetData></worksheet>"),
        ["rows-far-apart.xlsx"] = () => FarApart(),
        ["string-index-wild.xlsx"] = () => XlsxMaker.Example()
            .Set("bags", 2, "bag_id", new RawCell("<c r=\"{at}\" t=\"s\"><v>999999</v></c>")).ToBytes(),
        ["wide.xlsx"] = () => Wide("Sheet1").ToBytes(),
        ["wide-two-sheets.xlsx"] = () => Wide("Field data").Sheet("Other", ["a"], ["b"]).ToBytes(),
        ["wide-named-sheet.xlsx"] = () => Wide("Field data").Sheet("Other", ["a"], ["b"]).ToBytes(),
        ["wide-error.xlsx"] = () => Wide("Sheet1").Set("Sheet1", 2, "After", NotAvailable).ToBytes(),
        ["workbook-in-folder.zip"] = () =>
            ZipOf(("results/results.xlsx", XlsxMaker.Example().ToBytes()), ("results/readme.txt", Encoding.UTF8.GetBytes("our results"))),
        ["package.zip"] = () => ZipOf([.. ExampleFiles()]),
        ["path-upwards.zip"] = () => ZipOf([.. ExampleFiles(), ("../evil.csv", [65])]),
        ["path-absolute.zip"] = () => ZipOf([.. ExampleFiles(), ("/etc/cron.d/evil", [65])]),
        ["path-drive.zip"] = () => ZipOf([.. ExampleFiles(), ("C:evil.csv", [65])]),
        ["path-backslash.zip"] = () => ZipOf([.. ExampleFiles(), ("..\\evil.csv", [65])]),
        ["path-control.zip"] = () => ZipOf([.. ExampleFiles(), ("evil\u0007.csv", [65])]),
        ["file-twice.zip"] = () => ZipOf([.. ExampleFiles(), ("BAGS.csv", [65])]),
        ["bomb.zip"] = () => ZipOf([.. ExampleFiles(), ("zeros.bin", new byte[8 << 20])]),
        ["cut-off.zip"] = () => ZipOf([.. ExampleFiles()])[..1500],
        ["nothing.zip"] = () => ZipOf(),
    };

    private delegate object XlsxDates(double serial);

    private static byte[] Dated(XlsxDates cell, double shift, bool is1904)
    {
        XlsxMaker maker = XlsxMaker.Example();
        XlsxMaker dated = is1904 ? new XlsxMaker { IsDate1904 = true } : new XlsxMaker();
        maker.SetEvery("bags", "buried_on", value => cell(((string)value! == "2024-05-14" ? Buried : Buried + 1) - shift))
            .SetEvery("bags",
                "retrieved_on", value => value is null ? null : cell(((string)value == "2024-08-12" ? Retrieved : Retrieved + 1) - shift));
        foreach (string sheet in new[] { "package", "sites", "lots", "bags", "samples" })
            dated.Sheet(sheet, [.. maker.Rows(sheet)]);
        return dated.ToBytes();
    }

    private static XlsxMaker Sheet2(this XlsxMaker maker, string sheet, object?[] row)
    {
        maker.Rows(sheet).Add(row);
        return maker;
    }

    private static XlsxMaker WithBlankRows()
    {
        XlsxMaker maker = XlsxMaker.Example();
        maker.Rows("bags").Insert(3, []);
        maker.Rows("bags").Add([]);
        return maker;
    }

    private static XlsxMaker Beyond()
    {
        XlsxMaker maker = XlsxMaker.Example();
        List<object?[]> rows = maker.Rows("lots");
        rows[1] = [.. rows[1], null, "checked"];
        return maker;
    }

    private static XlsxMaker Wide(string sheet) => new XlsxMaker().Sheet(sheet,
        ["Site", "Lat", "Lon", "Bag", "Hole", "Litter", "Before", "After", "Buried", "Retrieved"],
        ["meadow", 47.31, -11.2, "m1f", 1.0, "fast", 2060.0, 970.0, new DateCell(Buried), new DateCell(Retrieved)],
        ["meadow", 47.31, -11.2, "m1s", 1.0, "slow", 2270.0, 1680.0, new DateCell(Buried), new DateCell(Retrieved)]);

    private static string WideMapping(string file) => $$"""
        version: 1
        {{file}}one_row_is: bag
        package: { name: wide-book, contributor: group-w, campaign: c-2024, protocol: p-90, licence: CC-BY-4.0 }
        sites: { site_id: { column: Site }, decimal_latitude: { column: Lat }, decimal_longitude: { column: Lon } }
        lots:
          - { lot_id: F-07, role: fast, hydrolysable_fraction: 0.78, hydrolysable_fraction_sd: 0.02, tare_g: 0.25 }
          - { lot_id: S-03, role: slow, hydrolysable_fraction: 0.51, hydrolysable_fraction_sd: 0.04, tare_g: 0.25 }
        bags:
          bag_id: { column: Bag }
          burial_id: { column: Hole }
          site_id: { column: Site }
          lot_id: { column: Litter, words: { fast: F-07, slow: S-03 } }
          role: { column: Litter }
          mass_initial_g: { column: Before, unit: mg }
          mass_final_g: { column: After, unit: mg }
          mass_basis: { value: gross }
          buried_on: { column: Buried }
          retrieved_on: { column: Retrieved }
        """;

    private static byte[] Spoilt(string part, string xml)
    {
        XlsxMaker maker = XlsxMaker.Example();
        maker.Parts[part] = Encoding.UTF8.GetBytes(xml);
        return maker.ToBytes();
    }

    /// <summary>A few bytes that stand for 1.5 thousand million cells: three sheets, each with its last row and a far column
    /// filled.</summary>
    private static byte[] FarApart()
    {
        XlsxMaker maker = XlsxMaker.Example();
        for (int i = 0; i < 3; i++)
            maker.Sheet($"far {i}", [new RawCell("<c r=\"RZ1\"><v>1</v></c></row><row r=\"1048576\"><c r=\"A1048576\"><v>1</v></c>")]);
        return maker.ToBytes();
    }

    /// <summary>Entities that multiply tenfold in nine steps.</summary>
    private static string XmlBomb() => "<!DOCTYPE sst [<!ENTITY a0 \"0\">"
        + string.Concat(Enumerable.Range(1, 9).Select(i => $"<!ENTITY a{i} \"{string.Concat(Enumerable.Repeat($"&a{i - 1};", 10))}\">"))
        + "]><sst><si><t>&a9;</t></si></sst>";

    private static IEnumerable<(string, byte[])> ExampleFiles() =>
        Directory.GetFiles(Example.Folder).Select(file => (Path.GetFileName(file), File.ReadAllBytes(file)));

    private static byte[] Zip(params (string Name, string Text)[] entries) =>
        ZipOf([.. entries.Select(entry => (entry.Name, Encoding.UTF8.GetBytes(entry.Text)))]);

    public static byte[] ZipOf(params (string Name, byte[] Content)[] entries)
    {
        using MemoryStream bytes = new();
        using (ZipArchive zip = new(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] content) in entries)
            {
                using Stream stream = zip.CreateEntry(name).Open();
                stream.Write(content);
            }
        }
        return bytes.ToArray();
    }
}
