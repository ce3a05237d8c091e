using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>A kit as its group has it: filled in by a script, saved by another spreadsheet, and read again with no question left.</summary>
public sealed class KitsFilledIn : IDisposable
{
    // Debian's own, which has the module; another Python on the path may not
    private const string Python = "/usr/bin/python3";

    private readonly Workspace _work = new();

    // the example is of a year to come, and nobody has dug anything up by then
    public KitsFilledIn() => File.WriteAllText(_work.PathOf("campaign.yaml"),
        File.ReadAllText(Project.PathOf("docs/examples/campaign.yaml")).Replace("2027-", "2025-", StringComparison.Ordinal));

    [Theory]
    [InlineData("en")]
    [InlineData("de")]
    [InlineData("es")]
    [InlineData("fr")]
    public void A_kit_filled_in_by_a_script_is_valid_and_gives_what_the_formula_says(string language)
    {
        string filled = Filled(language);

        CommandResult check = _work.DecayAtlasHere("check", filled, "--json");

        Assert.True(check.ExitCode == 0, check.Everything);
        using JsonDocument said = JsonDocument.Parse(check.Output);
        Assert.Equal("kit", said.RootElement.GetProperty("format").GetString());
        Assert.Equal((2, 2, 6), (Count(said, "sites"), Count(said, "lots"), Count(said, "bags")));
        RequireRate(filled);
    }

    [Fact]
    public void What_LibreOffice_saved_is_read_as_before()
    {
        Assert.SkipUnless(Command.Has("soffice"), "LibreOffice is not installed (Debian package libreoffice-calc)");
        // whose sheets have an apostrophe in their names
        string filled = Filled("fr");
        string profile = "-env:UserInstallation=" + new Uri(_work.PathOf("office")).AbsoluteUri;
        CommandResult saved =
            Command.Run(_work.Folder, "soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", "saved", filled);
        Assert.True(saved.ExitCode == 0, saved.Everything);

        CommandResult check = _work.DecayAtlasHere("check", "saved/filled.xlsx");

        Assert.True(check.ExitCode == 0, check.Everything);
        Assert.Contains("bags 6", check.Output, StringComparison.Ordinal);
        RequireRate("saved/filled.xlsx");
    }

    [Fact]
    public void A_blank_kit_is_told_to_be_blank_in_one_sentence()
    {
        Make("de");

        CommandResult check = _work.DecayAtlasHere("check", "kits/moss-watchers/sheet.xlsx");

        Assert.Equal(1, check.ExitCode);
        Assert.Contains("nothing is filled in yet", check.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("row", check.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_kit_that_is_there_is_not_written_over()
    {
        Make("en");

        CommandResult again = _work.DecayAtlasHere("kit", "campaign.yaml", "--group", "moss-watchers", "--output", "kits");

        Assert.Equal(2, again.ExitCode);
        Assert.Contains("is there already, and its sheet may be filled in", again.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("there is no such file|no campaign file", "nowhere.yaml")]
    [InlineData("--paper a3: expected one of a4, letter.", "campaign.yaml", "--paper", "a3")]
    [InlineData("--paper a3: Erwartet wird eines von a4, letter.", "campaign.yaml", "--paper", "a3", "--language", "de")]
    [InlineData("--language it: expected one of de, en, es, fr.", "campaign.yaml", "--language", "it")]
    [InlineData("found no such group in .*campaign.yaml, expected one of quillmoor-upper-school", "campaign.yaml", "--group", "moss")]
    [InlineData(@"demo\.yaml:\d+: ", "pipeline/demo.yaml")]
    public void What_is_wrong_is_told_in_one_sentence(string told, params string[] args)
    {
        CommandResult result = _work.DecayAtlasHere(["kit", .. args, "--output", "kits"]);

        Assert.Equal(2, result.ExitCode);
        Assert.Matches(told, result.Error);
        Assert.Single(result.Error.Trim().Split('\n'));
        Assert.False(Directory.Exists(_work.PathOf("kits")));
    }

    public void Dispose() => _work.Dispose();

    // By hand from the published formula (docs/method.md, section 2): bags of 0.64 g, 87 days, H 0.71 and 0.49.
    private void RequireRate(string sheet)
    {
        double lostFast = 1 - (1.92 - 0.64) / (3.84 - 0.64), leftSlow = (3.90 - 0.64) / (4.74 - 0.64);
        double s = 1 - lostFast / 0.71, labile = 0.49 * (1 - s);
        double k = Math.Log(labile / (leftSlow - (1 - labile))) / 87;

        CommandResult answer = _work.DecayAtlasHere("uncertainty", sheet, "--json");

        Assert.True(answer.ExitCode == 0, answer.Everything);
        using JsonDocument json = JsonDocument.Parse(answer.Output);
        JsonElement first = json.RootElement.GetProperty("burials")[0].GetProperty("first_order");
        Assert.Equal(k, first.GetProperty("rate_per_day").GetProperty("value").GetDouble(), 1e-12);
        Assert.Equal(s, first.GetProperty("stabilisation_factor").GetProperty("value").GetDouble(), 1e-12);
    }

    private static int Count(JsonDocument check, string table) => check.RootElement.GetProperty("summary").GetProperty(table).GetInt32();

    private void Make(string language)
    {
        CommandResult made = _work.DecayAtlasHere("kit", "campaign.yaml", "--group", "moss-watchers", "--language", language,
            "--output", "kits");
        Assert.True(made.ExitCode == 0, made.Everything);
    }

    private string Filled(string language)
    {
        Assert.SkipUnless(File.Exists(Python) && Command.Run(_work.Folder, Python, "-c", "import openpyxl").ExitCode == 0,
            "openpyxl is not installed (Debian package python3-openpyxl)");
        Make(language);
        CommandResult filled = Command.Run(_work.Folder, Python, Project.PathOf("tests/DecayAtlas.EndToEnd/fill_kit.py"),
            "kits/moss-watchers/sheet.xlsx", "filled.xlsx");
        Assert.True(filled.ExitCode == 0, filled.Everything);
        return "filled.xlsx";
    }
}
