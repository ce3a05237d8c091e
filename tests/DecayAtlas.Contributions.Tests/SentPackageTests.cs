using System.IO.Compression;
using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>What is saved to send says the same as what it was made from.</summary>
public sealed class SentPackageTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-sent-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("results")]
    [InlineData("means")]
    public void A_table_with_its_mapping_becomes_a_data_package_of_the_same_rows(string name)
    {
        string table = Path.Combine(Tables, name + ".csv");
        Contribution own = ContributionReader.Read(table, IntakeLimits.Default).Contribution!;
        Contribution sent = Sent(table);
        Assert.Equal(own.Header with { ContentHash = "" }, sent.Header with { ContentHash = "" });
        Assert.Equal(own.Sites.Select(row => row with { Row = 0 }), sent.Sites.Select(row => row with { Row = 0 }));
        Assert.Equal(own.Lots.Select(row => row with { Row = 0 }), sent.Lots.Select(row => row with { Row = 0 }));
        Assert.Equal(own.Bags.Select(row => row with { Row = 0 }), sent.Bags.Select(row => row with { Row = 0 }));
        Assert.Equal(own.Results.Select(row => row with { Row = 0 }), sent.Results.Select(row => row with { Row = 0 }));
    }

    [Theory]
    [InlineData("example")]
    [InlineData("example-results")]
    public void A_data_package_goes_as_it_is(string name)
    {
        string folder = Path.Combine(AppContext.BaseDirectory, name);
        Assert.Equal(ContributionReader.Read(folder, IntakeLimits.Default).ContentHash, Sent(folder).Header.ContentHash);
    }

    [Fact]
    public void Every_column_of_every_table_has_its_cell()
    {
        Contribution whole = ContributionReader.Read(Example.Folder, IntakeLimits.Default).Contribution!;
        ResultRow result = ContributionReader.Read(Example.OfResults, IntakeLimits.Default)
            .Contribution!.Results[0];
        Assert.Equal(SchemaCatalogue.Sites.ColumnNames.Order(), Names(SentColumns.Of(whole.Sites[0])));
        Assert.Equal(SchemaCatalogue.Lots.ColumnNames.Order(), Names(SentColumns.Of(whole.Lots[0])));
        Assert.Equal(SchemaCatalogue.Bags.ColumnNames.Order(), Names(SentColumns.Of(whole.Bags[0])));
        Assert.Equal(SchemaCatalogue.Samples.ColumnNames.Order(), Names(SentColumns.Of(whole.Samples[0])));
        Assert.Equal(SchemaCatalogue.Results.ColumnNames.Order(), Names(SentColumns.Of(result)));

        static IEnumerable<string> Names(IReadOnlyList<(string Name, string Text)> cells) => cells.Select(cell => cell.Name).Order();
    }

    [Fact]
    public void The_same_table_gives_the_same_bytes_and_whom_to_ask_goes_with_it()
    {
        string table = Path.Combine(_folder, "own.csv"), mapping = Path.Combine(_folder, "own.mapping.yaml");
        File.Copy(Path.Combine(Tables, "results.csv"), table);
        string text = File.ReadAllText(Path.Combine(Tables, "results.mapping.yaml"));
        File.WriteAllText(mapping, text.Replace("package:\n", "package:\n  contact_name: Class 7\n  contact_email: seven@example.org\n",
            StringComparison.Ordinal));
        byte[] first = SentPackage.Of(table, IntakeLimits.Default)!.Value.Zip;
        byte[] second = SentPackage.Of(table, IntakeLimits.Default)!.Value.Zip;
        Assert.Equal(first, second);
        using ZipArchive zip = new(new MemoryStream(first));
        using StreamReader descriptor = new(zip.GetEntry("datapackage.json")!.Open());
        Assert.Contains("seven@example.org", descriptor.ReadToEnd(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_valid_gives_nothing_to_send()
    {
        string table = Path.Combine(_folder, "alone.csv");
        File.WriteAllText(table, "a,b\n1,2\n");
        Assert.Null(SentPackage.Of(table, IntakeLimits.Default));
    }

    /// <summary>Against the framework's own table of the code page.</summary>
    [Fact]
    public void Every_byte_of_windows_1252_is_the_letter_that_the_framework_reads()
    {
        byte[] bytes = [.. Enumerable.Range(0, 256).Select(i => (byte)i)];
        Encoding theirs = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;
        Windows1252 ours = new();
        Assert.Equal(theirs.GetString(bytes), ours.GetString(bytes));
        Assert.Equal(theirs.GetBytes(theirs.GetString(bytes)), ours.GetBytes(theirs.GetString(bytes)));
    }

    private Contribution Sent(string path)
    {
        (string name, byte[] zip) = SentPackage.Of(path, IntakeLimits.Default)!.Value;
        string file = Path.Combine(_folder, name);
        File.WriteAllBytes(file, zip);
        ReadResult read = ContributionReader.Read(file, IntakeLimits.Default);
        Assert.Empty(read.Findings);
        return read.Contribution!;
    }

    private static string Tables => Path.Combine(AppContext.BaseDirectory, "example-table");
}
