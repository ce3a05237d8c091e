using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>
/// Contributions are planted: forty sites whose slow litter lost the more the warmer they are, then a school whose sites lost the less. A
/// model that turns under the school is told in the night that the school came, and one that a good contribution hardly moves is not.
/// </summary>
public sealed class ModelsTurned : IDisposable
{
    private const int Columns = 60, Rows = 12;

    private readonly SmallAtlas _atlas = new("""
        grids: grids.yaml
        train: { covariates: [warmth], seed: 1, folds: 3, block_degrees: 2, trees: 5, settings_tried: 1, members: 20 }
        map: { title: Decay rate }

        """);

    public ModelsTurned()
    {
        File.WriteAllText(_atlas.PathOf("grids.yaml"), """
            version: 1
            grids:
              - { name: warmth, title: Warmth, file: warmth.asc, unit: degC, rule: nearest, kind: continuous, crs: "EPSG:4326" }

            """);
        File.WriteAllText(_atlas.PathOf("warmth.asc"),
            $"ncols {Columns}\nnrows {Rows}\nxllcorner 0\nyllcorner 40\ncellsize 0.5\nNODATA_value -9999\n"
            + string.Concat(Enumerable.Range(0, Rows).Select(row => string.Join(' ', Enumerable.Range(0, Columns)
                .Select(column => WarmthAt(column).ToString("0.##", CultureInfo.InvariantCulture))) + "\n")));
    }

    public void Dispose() => _atlas.Dispose();

    private static double WarmthAt(int column) => 2 + 0.25 * column;

    [Fact]
    public void A_school_that_turns_the_model_is_named_in_its_night_and_a_good_contribution_is_not()
    {
        Gives("honest", 40, 3, warmth => 0.10 + 0.010 * warmth);
        RunRecord first = _atlas.Night();
        Assert.True(first.ExitCode == RecordedRun.Done, first.Failure);
        Assert.Empty(first.ModelChanges);

        Gives("honest-too", 3, 9, warmth => 0.10 + 0.010 * warmth);
        RunRecord ordinary = _atlas.Night();
        Assert.True(ordinary is { ModelIsNew: true, ExitCode: RecordedRun.Done }, string.Join(' ', ordinary.ModelChanges));

        Gives("hollow-school", 30, 7, warmth => 0.27 - 0.010 * warmth);
        RunRecord turned = _atlas.Night();
        ModelChange change = Assert.Single(turned.ModelChanges);
        Assert.Equal(RecordedRun.NeedsPerson, turned.ExitCode);
        Assert.Equal(("k", Path.GetFileName(ordinary.Model)), (change.Quantity, change.Before));
        Assert.Equal(["hollow-school (new)"], change.Contributions);
        Assert.Contains(change.What, what => what.StartsWith("its error on unseen blocks is ", StringComparison.Ordinal));
        Assert.Contains("The model of k changed by more than noise: ", _atlas.Summary, StringComparison.Ordinal);
        Assert.Contains("hollow-school (new)", _atlas.Summary, StringComparison.Ordinal);

        RunRecord unchanged = _atlas.Night();
        Assert.Equal((RecordedRun.Done, 0), (unchanged.ExitCode, unchanged.ModelChanges.Count));

        // what was taken out again is a change too, and is named as gone
        _atlas.Withdraw("hollow-school");
        Assert.Equal(["hollow-school (gone)"], Assert.Single(_atlas.Night().ModelChanges).Contributions);
    }

    /// <summary>A burial at each of some sites, of which the slow litter lost a share that warmth tells, give or take a little.</summary>
    private void Gives(string name, int sites, int step, Func<double, double> lost)
    {
        string from = Path.Combine(AppContext.BaseDirectory, "example"), to = Directory.CreateDirectory(_atlas.PathOf($"inbox/{name}")).FullName;
        JsonNode descriptor = JsonNode.Parse(File.ReadAllText(Path.Combine(from, "datapackage.json")))!;
        (descriptor["name"], descriptor["contributor"]) = (name, name);
        File.WriteAllText(Path.Combine(to, "datapackage.json"), descriptor.ToJsonString());
        File.Copy(Path.Combine(from, "lots.csv"), Path.Combine(to, "lots.csv"));
        string Header(string table) => File.ReadLines(Path.Combine(from, table)).First() + "\n";
        File.WriteAllText(Path.Combine(to, "samples.csv"), Header("samples.csv"));
        int ColumnOf(int i) => i * step % Columns;
        File.WriteAllText(Path.Combine(to, "sites.csv"), Header("sites.csv") + string.Concat(Enumerable.Range(0, sites).Select(i =>
            string.Create(CultureInfo.InvariantCulture,
                $"s{i},{40.25 + 0.5 * (i * 5 % Rows)},{0.25 + 0.5 * ColumnOf(i)},15,no,XA,grassland,meadow,organic,,,,\n"))));
        File.WriteAllText(Path.Combine(to, "bags.csv"), Header("bags.csv") + string.Concat(Enumerable.Range(0, sites).Select(i =>
            Bag(i, "F-07,fast", 3.6, 1.8 + 0.004 * (i % 5))
            + Bag(i, "S-03,slow", 4 + 0.002 * i, (4 + 0.002 * i) * (1 - lost(WarmthAt(ColumnOf(i))) - 0.003 * (i * 7 % 5 - 2))))));
    }

    private static string Bag(int site, string lotAndRole, double before, double after) => string.Create(CultureInfo.InvariantCulture,
        $"s{site}-{lotAndRole[0]},b{site},s{site},A,1,{lotAndRole},,{before:F3},{after:F3},litter,oven,,,oven,70,,,,2024-05-14,"
        + $"2024-08-12,8,intact,yes,,0.001,,,\n");
}
