namespace DecayAtlas.Contributions.Tests;

/// <summary>Single steps from a wide table to the schema, and the proposal of a mapping.</summary>
public class WideTableTests
{
    private static readonly FieldSchema Latitude = SchemaCatalogue.Sites.Fields[SchemaCatalogue.Sites.OrdinalOf("decimal_latitude")];
    private static readonly FieldSchema Longitude = SchemaCatalogue.Sites.Fields[SchemaCatalogue.Sites.OrdinalOf("decimal_longitude")];
    private static readonly FieldSchema BuriedOn = SchemaCatalogue.Bags.Fields[SchemaCatalogue.Bags.OrdinalOf("buried_on")];

    /// <summary>ISO 6709:2022, annex H, gives 40°12'13.1"N for +40.20361... and 075°00'15.1"W for -75.00419... (from memory; computed by
    /// hand here).</summary>
    [Theory]
    [InlineData("40°12'13.1\"N", 40 + 12.0 / 60 + 13.1 / 3600)]
    [InlineData("40 12 13.1 N", 40 + 12.0 / 60 + 13.1 / 3600)]
    [InlineData("N40°12.5'", 40 + 12.5 / 60)]
    [InlineData("40º12′13″S", -(40 + 12.0 / 60 + 13.0 / 3600))]
    [InlineData("-40°30'", -40.5)]
    [InlineData("0°30'S", -0.5)]
    [InlineData("47.31 N", 47.31)]
    public void Degrees_minutes_and_seconds_are_read(string text, double degrees)
    {
        (string read, Finding? fault) = Degrees.Read(Latitude, text);
        Assert.Null(fault);
        Assert.Equal(degrees, double.Parse(read, System.Globalization.CultureInfo.InvariantCulture), 12);
    }

    [Theory]
    [InlineData("40°61'N")]
    [InlineData("40°10'60\"N")]
    [InlineData("40.5°10'N")]
    [InlineData("-40°10'S")]
    [InlineData("N40°10'N")]
    [InlineData("40°10'E")]
    [InlineData("north")]
    [InlineData("")]
    public void What_is_no_latitude_is_told(string text) => Assert.Equal("not-degrees", Degrees.Read(Latitude, text).Fault?.Code);

    [Fact]
    public void A_longitude_is_east_or_west() => Assert.Equal("not-degrees", Degrees.Read(Longitude, "11°10'N").Fault?.Code);

    [Theory]
    [InlineData("03/04/2024")]
    [InlineData("14.05.2024")]
    [InlineData("5-14-2024")]
    public void The_order_of_a_date_is_never_guessed(string text)
    {
        (_, Finding? fault) = StatedDate.Read(BuriedOn, text, DateOrder.Unstated);
        Assert.Equal("date-order-unstated", fault?.Code);
    }

    [Fact]
    public void The_same_digits_are_two_days_in_two_orders()
    {
        Assert.Equal("2024-04-03", StatedDate.Read(BuriedOn, "03/04/2024", DateOrder.Dmy).Text);
        Assert.Equal("2024-03-04", StatedDate.Read(BuriedOn, "03/04/2024", DateOrder.Mdy).Text);
        Assert.Equal("2024-04-03", StatedDate.Read(BuriedOn, "3. 4. 2024", DateOrder.Dmy).Text);
        Assert.Equal("2024-04-03", StatedDate.Read(BuriedOn, "2024/4/3", DateOrder.Dmy).Text);
    }

    /// <summary>SI prefixes; inch and foot after NIST SP 811, appendix B.8: 1 in = 2.54 cm, 1 ft = 30.48 cm, exactly.</summary>
    [Theory]
    [InlineData("bags", "mass_initial_g", "2060", "mg", "2.06")]
    [InlineData("bags", "mass_initial_g", "0.00206", "kg", "2.06")]
    [InlineData("bags", "depth_cm", "80", "mm", "8")]
    [InlineData("bags", "depth_cm", "0.08", "m", "8")]
    [InlineData("bags", "depth_cm", "3", "in", "7.62")]
    [InlineData("sites", "elevation_m", "1000", "ft", "304.8")]
    [InlineData("lots", "mesh_mm", "250", "um", "0.25")]
    [InlineData("lots", "ash_fraction", "5", "percent", "0.05")]
    public void Units_are_turned_exactly(string table, string field, string number, string unit, string expected)
    {
        TableSchema schema = SchemaCatalogue.Tables.First(candidate => candidate.Name == table);
        string converted = Units.Convert(number, unit, schema.Fields[schema.OrdinalOf(field)])!;
        Assert.Equal(decimal.Parse(expected, System.Globalization.CultureInfo.InvariantCulture),
            decimal.Parse(converted, System.Globalization.CultureInfo.InvariantCulture));
    }


    [Theory]
    [InlineData("Hauptweg-14", true, 1)]
    [InlineData("Hauptweg-14", false, 0)]
    [InlineData("Hauptweg-14", null, 0)]
    [InlineData("site-3", true, 0)]
    [InlineData("B7", true, 0)]
    public void The_id_of_a_hidden_place_is_told_where_it_may_be_a_name(string id, bool? isHidden, int told)
    {
        SiteRow site = new(2, id, 53.3, -7.5, null, isHidden, null, null, null, null, null, null, null);

        Assert.Equal(Enumerable.Repeat("hidden-place-named", told),
            HiddenPlaceWarnings.Of([site], "sheet.csv", null).Select(warning => warning.Code));
    }

    [Theory]
    [InlineData("burial-at-two-sites")]
    [InlineData("burial-with-two-bags")]
    public void A_burial_of_two_sites_or_of_two_bags_of_a_litter_is_told_and_not_refused(string code)
    {
        const string file = "bags.csv";
        using Example example = new();
        string[] lines = File.ReadAllLines(example.FileAt(file));
        string[] header = lines[0].Split(',');
        int burial = Array.IndexOf(header, "burial_id"), site = Array.IndexOf(header, "site_id"), role = Array.IndexOf(header, "role");
        string[][] rows = [.. lines.Skip(1).Select(line => line.Split(','))];
        if (code == "burial-at-two-sites")
            rows.First(row => row[burial] == rows[0][burial] && row != rows[0])[site] = rows.First(row => row[site] != rows[0][site])[site];
        else
            rows.Last(row => row[role] == rows[0][role] && row[site] == rows[0][site])[burial] = rows[0][burial];
        File.WriteAllLines(example.FileAt(file), [lines[0], .. rows.Select(row => string.Join(',', row))]);

        ReadResult result = example.Read();

        Assert.NotNull(result.Contribution);
        Assert.Contains(code, result.OtherWarnings().Select(warning => warning.Code));
        Assert.All(result.OtherWarnings(), warning => Assert.Equal(("bags.csv", "burial_id"), (warning.File, warning.Column)));
        CheckReport report = new("a", result, Example.Today);
        Assert.Contains("Worth a look", report.ToMarkdown(SenderWords.Find("en")!), StringComparison.Ordinal);
        Assert.Contains("Worth a look", report.ToHtml(SenderWords.Find("en")!), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+49 30", "'+49 30")]
    [InlineData("-5 at night", "'-5 at night")]
    [InlineData("@home", "'@home")]
    [InlineData("\tx", "'\tx")]
    [InlineData("\rx", "'\rx")]
    [InlineData("plain = text", "plain = text")]
    [InlineData("", "")]
    public void A_text_that_a_spreadsheet_would_compute_is_made_text(string text, string expected) =>
        Assert.Equal(expected, SpreadsheetSafe.Text(text));

    [Fact]
    public void A_report_is_one_page_that_fetches_nothing_and_runs_nothing()
    {
        using Example example = new Example().Replace("sites.csv", "grassland", "<script src=//x>")
            .Replace("bags.csv", ",4.12,", ",=cmd(),");
        CheckReport report = new("group <a>", example.Read(), Example.Today);
        Phrases words = SenderWords.Find("en")!;

        string html = report.ToHtml(words), markdown = report.ToMarkdown(words);

        Assert.Contains("<html lang=\"en\">", html, StringComparison.Ordinal);
        Assert.Contains("<caption>", html, StringComparison.Ordinal);
        Assert.Contains("<th scope=\"col\">", html, StringComparison.Ordinal);
        Assert.Contains("default-src 'none'", html, StringComparison.Ordinal);
        Assert.Contains("bags.csv", html, StringComparison.Ordinal);
        Assert.All(
            new[] { "<script", "http://", "https://", "src=\"", "href=", "example.org", "Example Group", "<a>" },
                bad => Assert.DoesNotContain(bad, html, StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain("<script", markdown, StringComparison.Ordinal);
        Assert.DoesNotContain("example.org", markdown, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_that_says_nothing_of_water_is_told_what_that_costs()
    {
        using Example example = new();
        string table = Path.Combine(example.Root, "results.csv"), mapping = SpreadsheetFiles.MappingPathOf(table);
        string examples = Path.Combine(AppContext.BaseDirectory, "example-table");
        File.Copy(Path.Combine(examples, "results.csv"), table);
        string[] lines = File.ReadAllLines(Path.Combine(examples, "results.mapping.yaml"));
        File.WriteAllLines(mapping, lines);
        Assert.Empty(ContributionReader.Read(table, IntakeLimits.Default).OtherWarnings());

        File.WriteAllLines(mapping, lines.Where(line => !line.Contains("drying", StringComparison.Ordinal)));
        ReadResult read = ContributionReader.Read(table, IntakeLimits.Default);

        Assert.NotNull(read.Contribution);
        Assert.Equal(["drying_initial", "drying"], read.OtherWarnings().Select(warning => warning.Column));
        Assert.All(read.OtherWarnings(), warning => Assert.Contains("up to about 25 % off", warning.Expected, StringComparison.Ordinal));
    }

    /// <summary>Counted by hand in the example: four burials, one of them without its fast bag's final mass.</summary>
    [Fact]
    public void The_summary_counts_what_k_and_S_can_be_computed_from()
    {
        CheckSummary summary = new CheckReport(
            "example", ContributionReader.Read(Example.Folder, IntakeLimits.Default), Example.Today).Summary!;

        Assert.Equal((2, 2, 8, 3, 4), (summary.Sites, summary.Lots, summary.Bags, summary.Samples, summary.Burials));
        Assert.Equal((3, 3), (summary.BurialsWithRate, summary.BurialsWithStabilisation));
        Assert.Equal(new ReasonCount("bag-lost", 1), Assert.Single(summary.WithoutRate));
        Assert.Equal((new DateOnly(2024, 5, 14), new DateOnly(2024, 8, 13)), (summary.FirstBuriedOn, summary.LastRetrievedOn));
    }

    [Fact]
    public void The_inbox_takes_a_table_and_its_mapping_as_one_and_a_workbook_alone()
    {
        using Example example = new();
        string torture = Path.Combine(AppContext.BaseDirectory, "torture", "wide");
        foreach (string name in new[] { "plain.csv", "plain.mapping.yaml", "burial-rows.csv", "burial-rows.mapping.yaml" })
            File.Copy(Path.Combine(torture, name), Path.Combine(example.Inbox, name));
        File.WriteAllText(Path.Combine(example.Inbox, "lonely.mapping.yaml"), "version: 1\n");
        Intake intake = new(example.Atlas, IntakeLimits.Default);

        IReadOnlyList<IntakeResult> results = intake.TakeInbox(example.Inbox, null);

        Assert.Equal([("burial-rows.csv", IntakeOutcome.Accepted), ("group-a", IntakeOutcome.Accepted),
            ("lonely.mapping.yaml", IntakeOutcome.Quarantined), ("plain.csv", IntakeOutcome.Accepted)],
            results.Select(result => (result.Source, result.Outcome)));
        Assert.Equal(3, intake.Active().Count);
        intake.MarkTold(results);
        Assert.All(
            intake.TakeInbox(example.Inbox, null),
                result => Assert.True(result.Outcome is IntakeOutcome.AlreadyKnown or IntakeOutcome.AlreadyQuarantined));
    }

    [Fact]
    public void A_control_character_in_a_name_is_refused_and_reaches_no_line_of_a_report()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no such names");
        using Example example = new();
        File.WriteAllText(example.FileAt("note\u001b[31m\nbags.csv"), "x");

        Finding finding = example.OnlyFinding();

        Assert.Equal("path-unsafe", finding.Code);
        Assert.DoesNotContain(finding.ToString(), char.IsControl);
    }

    [Fact]
    public void The_hash_covers_the_table_and_its_mapping()
    {
        using Example example = new();
        string torture = Path.Combine(AppContext.BaseDirectory, "torture", "wide"), table = Path.Combine(example.Root, "t.csv"),
            mapping = Path.Combine(example.Root, "t.mapping.yaml");
        File.Copy(Path.Combine(torture, "plain.csv"), table);
        File.Copy(Path.Combine(torture, "plain.mapping.yaml"), mapping);
        string before = ContributionReader.Read(table, IntakeLimits.Default).ContentHash;
        File.AppendAllText(mapping, "# a remark\n");

        Assert.NotEqual(before, ContributionReader.Read(table, IntakeLimits.Default).ContentHash);
    }
}
