namespace DecayAtlas.Pipeline.Tests;

public sealed class Configurations : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-configuration-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string Write(string yaml)
    {
        string path = Path.Combine(_folder, "p.yaml");
        File.WriteAllText(path, yaml);
        return path;
    }

    private string Refusal(string yaml) => Assert.Throws<ConfigurationException>(() => ConfigurationReader.Read(Write(yaml))).Message;

    private const string Least = "version: 1\natlas: a\ninbox: ../in\n";

    [Fact]
    public void Paths_are_relative_to_the_file_and_the_rest_has_defaults()
    {
        PipelineConfiguration read = ConfigurationReader.Read(Write(Least));

        Assert.Equal(Path.Combine(_folder, "a"), read.Atlas);
        Assert.Equal(Path.Combine(Path.GetDirectoryName(_folder)!, "in"), read.Inbox);
        Assert.Equal(FlagCatalogue.All, read.Flags);
        Assert.Null(read.Train);
        Assert.Null(read.Map);
    }

    [Fact]
    public void A_citation_file_names_the_release_and_those_who_made_it()
    {
        File.WriteAllText(Path.Combine(_folder, "c.cff"), "cff-version: 1.2.0\ntitle: T\nmessage: M\nauthors: [{ name: A }]\nurl: https://soil.example\n");
        PipelineConfiguration read = ConfigurationReader.Read(Write(Least + "release: { title: other, citation: c.cff }"));

        Assert.Equal(("T", "M"), (read.Title, (string?)read.Citation!.Said["message"]));
        Assert.Equal("A", (string)read.Citation.Said["authors"]![0]!["name"]!);
    }

    [Theory]
    [InlineData("cff-version: 1.2.0\ntitle: T\n", "c.cff:1:", "authors")]
    [InlineData("cff-version: 1.1.0\nauthors: [{ name: A }]\n", "c.cff:1:", "1.2.0")]
    [InlineData("cff-version: 1.2.0\nauthors:\n  - { name: A, orcid: 0000-0002-1825-0097 }\n", "c.cff:3:", "https://orcid.org/")]
    [InlineData("cff-version: 1.2.0\nauthors: [{ name: A }]\ndoi: https://doi.org/10.1234/a\n", "c.cff:3:", "without https://doi.org/")]
    [InlineData("cff-version: 1.2.0\nauthors: [{ name: A }]\ndate-released: 31.05.2026\n", "c.cff:3:", "YYYY-MM-DD")]
    [InlineData("cff-version: 1.2.0\nauthors: [{ affiliation: A }]\n", "c.cff:2:", "a person (given-names, family-names) or a body (name)")]
    public void A_citation_file_that_is_none_is_told_with_its_line(string text, string place, string expected)
    {
        File.WriteAllText(Path.Combine(_folder, "c.cff"), text);
        string told = Refusal(Least + "release: { citation: c.cff }");
        Assert.Contains(place, told, StringComparison.Ordinal);
        Assert.Contains(expected, told, StringComparison.Ordinal);
    }

    [Fact]
    public void All_that_is_wrong_with_a_citation_file_is_told_at_once()
    {
        File.WriteAllText(Path.Combine(_folder, "c.cff"),
            "cff-version: 1.2.0\ntitle: 12\nauthors:\n  - { affiliation: A }\n  - { name: \"\" }\nkeywords: decay\n");
        string[] lines = Refusal(Least + "release: { citation: c.cff }").Split('\n');

        Assert.Equal([2, 4, 5, 6], lines.Select(line => int.Parse(
            line.Split("c.cff:")[1].Split(':')[0], System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void A_title_of_the_pages_is_one_for_all_languages_or_one_for_each()
    {
        PagesSection one = ConfigurationReader.Read(Write(Least + "pages: { title: Bags }")).Pages!,
            each = ConfigurationReader.Read(Write(Least + "pages: { title: { en: Bags, es: Bolsas } }")).Pages!;

        Assert.Equal(("Bags", "Bags"), (one.Title.In("en"), one.Title.In("fr")));
        // what a language has no title for takes the first
        Assert.Equal(("Bags", "Bolsas", "Bags"), (each.Title.In("en"), each.Title.In("es"), each.Title.In("fr")));
        Assert.Contains("title: found xx", Refusal(Least + "pages: { title: { en: Bags, xx: Bags } }"), StringComparison.Ordinal);
        Assert.Contains("p.yaml:4:", Refusal(Least + "pages: { title: { en: 3 } }"), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_setting_arrives()
    {
        PipelineConfiguration read = ConfigurationReader.Read(Write(Least + """
            grids: g.yaml
            countries: c.geojson
            limits: { file_bytes: 1000, package_bytes: 2000, files: 3, rows: 4, seconds: 60 }
            assumptions: { balance_resolution_g: 0.1, tare_sd_g: 0.2, ash_fraction_sd: 0.3, date_half_width_d: 1, moisture_sd: 0.01, moisture_most_air_dry: 0.05 }
            flags:
              exposure_days: { min: 30, max: 200 }
              result_scatter_limit: 0.5
              result_days_apart_max: 10
              moisture_most_dried: 0.03
              ash_left_min: 0.1
              plateau: { fast_over_slow: 6, share_min: 0.8 }
              depth_cm: { min: 5, max: 12.5 }
              balance_max_g: 0.2
              coordinate_uncertainty_max_m: 700
              country_distance_m: 800
              site_moved_m: 900
              replicate_outlier_level: 0.05
              digit_preference_level: 0.002
              multivariate_outlier_level: 0.003
              contributor_bias_limit: 3.5
              surprise_limit: 4.5
              surprise_block_degrees: 2
              pasted_across_level: 0.05
              as_of: "2025-02-28"
            release: { title: T, publisher: P }
            train: { covariates: [a, b], seed: 9, folds: 4, block_degrees: 2.5, minimum_rows: 20, trees: 50 }
            map: { title: M, bbox: [-10, -20, 10, 20] }
            """));

        Assert.Equal(new() { MaxFileBytes = 1000, MaxPackageBytes = 2000, MaxFiles = 3, MaxRows = 4, MaxSeconds = 60 }, read.Limits);
        Assert.Equal(
            new()
            {
                BalanceResolutionGrams = 0.1,
                TareSdGrams = 0.2,
                AshFractionSd = 0.3,
                DateHalfWidthDays = 1,
                MoistureSd = 0.01,
                MoistureMostAirDry = 0.05,
            },
            read.Assumptions);
        Assert.Equal(
            [
                new ExposureShort { ExposureMinDays = 30 }, new ExposureLong { ExposureMaxDays = 200 },
                new PlateauNotReached { FastOverSlow = 6, ShareMin = 0.8 },
                new DepthOutOfRange { DepthMinCentimetres = 5, DepthMaxCentimetres = 12.5 }, new BalanceCoarse { BalanceMaxGrams = 0.2 },
                new DriedAndMoist { MoistureMostDried = 0.03 },
                new CoordinatesCoarse { CoordinateUncertaintyMaxMetres = 700 }, new FarFromCountry { CountryDistanceMetres = 800 },
                new SiteMoved { SiteMovedMetres = 900 }, new ReplicateOutlier { ReplicateOutlierLevel = 0.05 },
                new DigitPreferred { DigitPreferenceLevel = 0.002 }, new MultivariateCheck { MultivariateOutlierLevel = 0.003 },
                new BiasCheck { ContributorBiasLimit = 3.5 }, new SurpriseCheck { SurpriseLimit = 4.5, SurpriseBlockDegrees = 2 },
                new PastedCheck { PastedAcrossLevel = 0.05 }, new RetrievedInFuture { AsOf = new(2025, 2, 28) },
                new AshVanished { AshLeftMin = 0.1 },
                new ResultScatterLarge { ResultScatterLimit = 0.5 }, new ResultDaysDiffer { ResultDaysApartMax = 10 },
            ],
            read.Flags.Where(f => DeclaredSetting.Of(f).Count > 0));
        Assert.Equal(("T", "P"), (read.Title, read.Publisher));
        Assert.Equal(["a", "b"], read.Train!.Covariates);
        Assert.Equal((9, 4, 2.5, 20, 50),
            (read.Train.Options.Seed, read.Train.Options.Folds, read.Train.Options.BlockDegrees,
                read.Train.Options.MinimumRows, read.Train.Options.Trees));
        Assert.Equal(new(-10, -20, 10, 20), read.Map!.Box);
    }

    [Theory]
    [InlineData("version: 1\natlas: a\n", "inbox")]
    [InlineData(Least + "colour: red\n", "colour")]
    [InlineData(Least + "limits: { seconds: 9 }\n", "seconds")]
    [InlineData(Least + "limits: { seconds: 86401 }\n", "seconds")]
    [InlineData(Least + "flags: { balance_max_g: heavy }\n", "balance_max_g")]
    [InlineData(Least + "answers: { evidence: [weighted] }\n", "weighed, summarised or reported")]
    [InlineData(Least + "flags: { depth_cm: { min: 9, max: 3 } }\n", "depth_cm")]
    [InlineData(Least + "flags: { as_of: \"2025-02-30\" }\n", "2025-02-30")]
    [InlineData(Least + "flags: { replicate_outlier_level: 0.02 }\n", "replicate_outlier_level")]
    [InlineData(Least + "grids: g.yaml\ntrain: { covariates: [a] }\nmap: { bbox: [10, 3, 5, 0] }\n", "bbox")]
    [InlineData(Least + "grids: g.yaml\ntrain: { covariates: [] }\n", "covariates")]
    [InlineData(Least + "train: { covariates: [a] }\n", "grids")]
    [InlineData(Least + "map: {}\n", "train")]
    [InlineData(Least + "remote: { hosts: [data.example.org, \"https://data.example.com/\"] }\n", "example.com/, expected a host")]
    [InlineData(Least + "remote: { hosts: [data.example.org/grids] }\n", "without https:// and path")]
    [InlineData(Least + "remote: { hosts: [\"data.example.org:443\"] }\n", "port only where that is not the usual one")]
    [InlineData(Least + "remote: { hosts: [\"*.example.org\"] }\n", "expected a host name")]
    [InlineData(Least + "remote: { hosts: [\" data.example.org\"] }\n", "expected a host name")]
    [InlineData("version: 1\natlas: a\ninbox: a/inbox\n", "overlaps")]
    [InlineData("version: 1\natlas: in/a\ninbox: in\n", "overlaps")]
    [InlineData("version: 1\natlas: a\ninbox: a\n", "overlaps")]
    [InlineData("version: 2\natlas: a\ninbox: b\n", "version")]
    [InlineData("a: [1\n", "p.yaml")]
    public void A_wrong_setting_is_named_with_file_and_line(string yaml, string named)
    {
        string message = Refusal(yaml);
        Assert.Contains(named, message, StringComparison.Ordinal);
        Assert.Matches(@"p\.yaml:\d+", message);
    }

    [Fact]
    public void Hosts_are_names_with_a_port_where_it_is_not_the_usual_one() => Assert.NotNull(ConfigurationReader.Read(Write(
        Least + "remote: { hosts: [data.example.org, \"Data.Example.com:8443\", \"192.0.2.7\", \"[2001:db8::1]:8443\", localhost] }\n"))
        .Remote);

    [Fact]
    public void A_missing_file_is_named() => Assert.Contains("nowhere.yaml",
        Assert.Throws<ConfigurationException>(() => ConfigurationReader.Read(Path.Combine(_folder, "nowhere.yaml"))).Message,
        StringComparison.Ordinal);
}
