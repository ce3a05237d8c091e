using System.Text.Json;

namespace DecayAtlas.Cli.Tests;

/// <summary>Bringing grids into a catalogue, as a person at the keyboard does it.</summary>
public sealed class GridCommands : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-grids-cli-").FullName;

    public GridCommands() => GeoTiffWriter.WriteSingle(
        At("warm.tif"),
        new GridLattice(120, 60, -30, 20, 0.1, 0.1), [.. Enumerable.Range(0, 120 * 60)
            .Select(i => i % 10 == 0 ? float.NaN : 251.5f + i % 50)], new GeoTiffBand("Air temperature", "degC"));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_file_is_inspected_drawn_and_told_to_machines()
    {
        (int code, string output, _) = Run("grids", "inspect", At("warm.tif"), "--picture", At("warm.png"));
        Assert.Equal(0, code);
        Assert.Contains("cells: 120 x 60, each 0.1 x 0.1 degrees", output, StringComparison.Ordinal);
        Assert.Contains("no value: 10.00 % of 7200 cells", output, StringComparison.Ordinal);
        Assert.Equal([0x89, .. "PNG"u8], File.ReadAllBytes(At("warm.png"))[..4]);
        JsonElement json = JsonDocument.Parse(Run("grids", "inspect", At("warm.tif"), "--json").Output).RootElement;
        Assert.Equal(0.1, json.GetProperty("values").GetProperty("missing_share").GetDouble(), 1e-12);
        Assert.Equal("degC", json.GetProperty("layers")[0].GetProperty("unit").GetString());
    }

    [Fact]
    public void An_entry_is_added_checked_and_mended()
    {
        (int code, string output, _) = Run("grids", "add", At("grids.yaml"), At("warm.tif"), "--name", "warm");
        Assert.Equal(1, code);
        Assert.Contains("file: warm.tif", output, StringComparison.Ordinal);
        Assert.Contains("look like kelvin", output, StringComparison.Ordinal);
        Assert.Equal(1, Run("grids", "check", At("grids.yaml")).Code);
        File.AppendAllText(At("grids.yaml"), "    offset: -273.15\n");
        (code, output, _) = Run("grids", "check", At("grids.yaml"));
        Assert.Equal((0, true), (code, output.Contains("nothing found", StringComparison.Ordinal)));
        Assert.Equal(3, Run("grids", "add", At("grids.yaml"), At("warm.tif"), "--name", "warm").Code);
    }

    [Fact]
    public void A_band_of_several_is_asked_for_and_not_taken_to_be_the_first()
    {
        using (GeoTiffWriter writer = new(At("two.tif"),
            new GridLattice(10, 5, 0, 0, 1, 1), [new GeoTiffBand("Clay", "%"), new GeoTiffBand("Sand", "%")]))
        {
            writer.WriteTile(0, 0, 0, Enumerable.Repeat(20f, 256 * 256).ToArray());
            writer.WriteTile(1, 0, 0, Enumerable.Repeat(60f, 256 * 256).ToArray());
        }

        string[] add = ["grids", "add", At("bands.yaml"), At("two.tif"), "--name", "sand"];
        (int code, _, string error) = Run(add);
        Assert.Equal(2, code);
        Assert.Contains("2 bands: 1 (Clay), 2 (Sand); name one with --band", error, StringComparison.Ordinal);
        Assert.False(File.Exists(At("bands.yaml")));
        Run([.. add, "--band", "2"]);
        Assert.Contains("band: 2", File.ReadAllText(At("bands.yaml")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_step_or_variable_of_several_is_asked_for_and_not_taken_to_be_the_first()
    {
        // what the file holds: ncdump -h of the same published file, variables pr and tas over 12 months
        const string file = "bcsd_obs_1999.nc";
        File.Copy(Path.Combine(AppContext.BaseDirectory, "data", file), At(file));
        string[] add = ["grids", "add", At("many.yaml"), At(file), "--name", "warm"];
        (int code, _, string error) = Run(add);
        Assert.Equal(2, code);
        Assert.Contains("2 variables: pr, tas", error, StringComparison.Ordinal);
        (code, _, error) = Run([.. add, "--variable", "tas"]);
        Assert.Equal(2, code);
        Assert.Contains("12 steps of time", error, StringComparison.Ordinal);
        Assert.False(File.Exists(At("many.yaml")));
        Assert.Equal(0, Run([.. add, "--variable", "tas", "--select", "time=1999-07"]).Code);
    }

    [Theory]
    [InlineData(2, "no file", "grids", "inspect", "none.tif")]
    [InlineData(2, ".png", "grids", "inspect", "warm.tif", "--picture", "warm.jpg")]
    [InlineData(2, "DIMENSION=STEP", "grids", "inspect", "warm.tif", "--select", "time")]
    [InlineData(2, "none.yaml", "grids", "inspect", "warm.tif", "--sites", "none.yaml")]
    [InlineData(3, "band 3", "grids", "inspect", "warm.tif", "--band", "3")]
    [InlineData(3, "no variable", "grids", "inspect", "warm.tif", "--variable", "tas")]
    [InlineData(2, "lower-case", "grids", "add", "grids.yaml", "warm.tif", "--name", "Warm")]
    [InlineData(2, "bilinear", "grids", "add", "grids.yaml", "warm.tif", "--name", "warm", "--rule", "average")]
    [InlineData(2, "name", "grids", "add", "grids.yaml", "warm.tif")]
    [InlineData(2, "none.yaml", "grids", "check", "none.yaml")]
    [InlineData(1, "not YAML", "grids", "check", "warm.tif")]
    [InlineData(2, "--help", "grids", "look")]
    public void Wrong_use_gets_a_sentence_and_its_exit_code(int expected, string said, params string[] args)
    {
        (int code, string output, string error) =
            Run([.. args.Select(a => a.Contains('.', StringComparison.Ordinal) && !a.StartsWith('-') ? At(a) : a)]);
        Assert.Equal(expected, code);
        Assert.Contains(said, output + error, StringComparison.Ordinal);
        Assert.DoesNotContain("mistake", output + error, StringComparison.Ordinal);
    }

    private string At(string name) => Path.Combine(_folder, name);

    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());
        return (CommandLine.Run(args, output, error), output.ToString(), error.ToString());
    }
}
