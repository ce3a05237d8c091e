namespace DecayAtlas.Contributions.Workbooks;

/// <summary>
/// A contribution as one workbook: a sheet for each table, with the columns of the schema, and a sheet <c>package</c>
/// with the columns <c>name</c> and <c>value</c>. Other sheets are left alone.
/// </summary>
internal static class WorkbookContribution
{
    public const string PackageSheet = "package";

    private static readonly string[] Known = [PackageSheet, .. SchemaCatalogue.Tables.Select(table => table.Name)];

    /// <summary>Whether the workbook has any of the sheets of a contribution; if not, it may be a wide table.</summary>
    public static bool HasTables(Workbook workbook) => Known.Count(name => name != "samples" && workbook.Find(name) is not null) > 1;

    /// <summary>Whether a sheet may be left empty or out: where results are sent, bags and their lots need not be.</summary>
    public static bool IsOptional(TableSchema table, Workbook workbook) => !RequiredIn(workbook).Contains(table.Name);

    private static string[] RequiredIn(Workbook workbook) => workbook.Find("results") is { Rows.Count: > 0 } ? [PackageSheet, "sites"]
        : [PackageSheet, "sites", "lots", "bags"];

    /// <summary>The entries of the sheet <see cref="PackageSheet"/> as they stand, the first of each.</summary>
    public static IReadOnlyDictionary<string, string> StatedIn(Workbook workbook) => (workbook.Find(PackageSheet)?.Rows ?? [])
        .Select(row => (Name: row[0].Text.Trim(), Value: row[1].Text.Trim()))
        .Where(entry => FlatDescriptor.Names.Contains(entry.Name) && entry.Value.Length > 0)
        .DistinctBy(entry => entry.Name).ToDictionary(entry => entry.Name, entry => entry.Value);

    public static ContributionHeader? ReadHeader(Workbook workbook, string file, string contentHash, FindingList findings)
    {
        string[] required = RequiredIn(workbook);
        foreach (string name in required.Where(name => workbook.Find(name) is null))
        {
            findings.Add(FindingCode.SheetMissing, file, $"no sheet {name}",
                $"the sheets {string.Join(", ", required)} and, if there are any, results and samples", $"add the sheet {name}");
        }

        foreach (Sheet sheet in workbook.Sheets
            .Where(sheet => sheet.Rows.Count > 0 && workbook.Find(sheet.Name!.Trim()) != sheet
                || !Known.Contains(sheet.Name!.Trim(), StringComparer.OrdinalIgnoreCase)))
        {
            if (sheet.Rows.Count > 0 && Nearest.Of(sheet.Name!, Known) is { } near)
            {
                string mend = $"rename it to {near} if it is that table, or give it a name that cannot be mistaken";
                string found = $"a sheet {FindingText.Quote(sheet.Name)}";
                findings.Add(new Finding(FindingCode.SheetExtra, file, found, $"one sheet {near}", mend) { Sheet = sheet.Name });
            }
        }
        return workbook.Find(PackageSheet) is { } package ? ReadPackage(package, contentHash, findings) : null;
    }

    private static ContributionHeader? ReadPackage(Sheet sheet, string contentHash, FindingList findings)
    {
        Dictionary<string, string> values = [];
        Dictionary<string, int> rows = [];
        int before = findings.Count;
        foreach (SheetRow row in sheet.Rows)
        {
            string name = row[0].Text.Trim();
            if (name == "name" && row[1].Text == "value")
                continue;
            if (!FlatDescriptor.Names.Contains(name))
            {
                string found = name.Length == 0 ? "a row without a name" : $"the name {FindingText.Quote(name)}";
                string mend = Nearest.Of(name, FlatDescriptor.Names) is { } near ? $"rename it to {near}" : "take the row out";
                Tell(FindingCode.DescriptorInvalid, null, found, "one of " + string.Join(", ", FlatDescriptor.Names), mend, 0);
            }
            else if (row[1].Kind is SheetCellKind.Error or SheetCellKind.Formula)
            {
                Tell(FindingCode.CellError, name, "a formula without a good result", "a text", "write the value itself", 1);
            }
            else if (!rows.TryAdd(name, row.Row))
            {
                Tell(FindingCode.DescriptorInvalid, name, $"{name} a second time", "each name once", "take one of the two rows out", 0);
            }
            else if (row[1].Text.Trim() is { Length: > 0 } value)
            {
                values.Add(name, value);
            }

            void Tell(string code, string? about, string found, string expected, string mend, int column) =>
                findings.Add(sheet.Place(new Finding(code, "", null, about, found, expected, mend), row.Row, column));
        }
        ContributionHeader? header = FlatDescriptor.Read(values,
            (finding, name) => name is not null && rows.TryGetValue(name, out int row) ? sheet.Place(finding, row, 1)
                : finding with { File = sheet.File, Sheet = sheet.Name },
            contentHash, findings);
        return findings.Count == before ? header : null;
    }
}
