namespace DecayAtlas.Contributions.Workbooks;

/// <summary>
/// A contribution as one workbook: a sheet for each table, with the columns of the schema, and a sheet <c>package</c>
/// with the columns <c>name</c> and <c>value</c>. Other sheets are left alone.
/// </summary>
internal static class WorkbookContribution
{
    public const string PackageSheet = "package";

    private static readonly string[] Required = [PackageSheet, "sites", "lots", "bags"];

    /// <summary>Whether the workbook has any of the sheets of a contribution; if not, it may be a wide table.</summary>
    public static bool HasTables(Workbook workbook) => Required.Count(name => workbook.Find(name) is not null) > 1;

    public static ContributionHeader? ReadHeader(Workbook workbook, string file, string contentHash, FindingList findings)
    {
        string[] known = [.. Required, "samples"];
        string[] absent = [.. known.Where(name => workbook.Find(name) is null)];
        foreach (string name in absent.Intersect(Required))
        {
            findings.Add(FindingCode.SheetMissing,
                file, $"no sheet {name}", $"the sheets {string.Join(", ", Required)} and, if there are any, "
                + "samples", $"add the sheet {name}");
        }

        foreach (Sheet sheet in workbook.Sheets
            .Where(sheet => sheet.Rows.Count > 0 && workbook.Find(sheet.Name!.Trim()) != sheet
                || !known.Contains(sheet.Name!.Trim(), StringComparer.OrdinalIgnoreCase)))
        {
            if (sheet.Rows.Count > 0 && Nearest.Of(sheet.Name!, known) is { } near)
            {
                findings.Add(new Finding(FindingCode.SheetExtra, file, null,
                    null, $"a sheet {FindingText.Quote(sheet.Name)}", $"one sheet {near}",
                    $"rename it to {near} if it is that table, or give it a name that cannot be mistaken")
                { Sheet = sheet.Name });
            }
        }
        return workbook.Find(PackageSheet) is { } package ? ReadPackage(package, file, contentHash, findings) : null;
    }

    private static ContributionHeader? ReadPackage(Sheet sheet, string file, string contentHash, FindingList findings)
    {
        Dictionary<string, string> values = new(StringComparer.Ordinal);
        Dictionary<string, int> rows = new(StringComparer.Ordinal);
        int before = findings.Count;
        foreach (SheetRow row in sheet.Rows)
        {
            string name = row[0].Text.Trim();
            if (name == "name" && row[1].Text == "value")
                continue;
            if (!FlatDescriptor.Names.Contains(name))
            {
                findings.Add(Place(new Finding(FindingCode.DescriptorInvalid, "", null,
                    null, name.Length == 0 ? "a row without a name" : $"the name {FindingText.Quote(name)}",
                    "one of " + string.Join(", ", FlatDescriptor.Names), Nearest.Of(name, FlatDescriptor.Names) is { } near
                    ? $"rename it to {near}" : "take the row out"), row.Row, 0));
            }
            else if (row[1].Kind is SheetCellKind.Error or SheetCellKind.Formula)
            {
                findings.Add(
                    Place(new Finding(FindingCode.CellError, "", null, name, "a formula without a good result", "a text",
                        "write the value itself"), row.Row, 1));
            }
            else if (!rows.TryAdd(name, row.Row))
            {
                findings.Add(
                    Place(new Finding(FindingCode.DescriptorInvalid, "", null, name, $"{name} a second time", "each name once",
                        "take one of the two rows out"), row.Row, 0));
            }
            else if (row[1].Text.Trim() is { Length: > 0 } value)
            {
                values.Add(name, value);
            }
        }
        ContributionHeader? header = FlatDescriptor.Read(values,
            (finding, name) => name is not null && rows.TryGetValue(name, out int row) ? Place(finding, row, 1)
                : finding with { File = file, Sheet = sheet.Name },
            contentHash, findings);
        return findings.Count == before ? header : null;

        Finding Place(Finding finding, int row, int column) =>
            finding with { File = file, Sheet = sheet.Name, Row = row, Cell = CellReference.Of(column, row) };
    }
}
