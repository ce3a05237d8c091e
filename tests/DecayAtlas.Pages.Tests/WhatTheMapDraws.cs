using System.Text.Json;

namespace DecayAtlas.Pages.Tests;

/// <summary>What lies under the sites of the map, and what its colours stand for.</summary>
public class WhatTheMapDraws
{
    private static readonly double[] OneKilometre = [1000, 1000, 1000, 1000, 1000];

    /// <summary>The numbers are those of <c>gdaldem hillshade -z 2 -az 315 -alt 45</c>, GDAL 3.6.2, of the same heights in cells of a
    /// kilometre.</summary>
    [Fact]
    public void Land_is_shaded_as_GDAL_shades_it()
    {
        double[] heights =
        [
            120, 180, 260, 240, 150, 90, 140, 300, 520, 480, 260, 110, 160, 420, 900, 760, 330, 130, 130, 310, 640, 560, 280, 120,
            100, 170, 280, 250, 160, 80,
        ];
        byte[] shades = Relief.Shade(6, heights, OneKilometre, 1000, 2);
        Assert.Equal([241, 237, 176, 148, 224, 217, 123, 106, 178, 128, 68, 89],
            new[] { 7, 8, 9, 10, 13, 14, 15, 16, 19, 20, 21, 22 }.Select(i => (int)shades[i]));
    }

    [Fact]
    public void Level_land_is_lit_by_a_sun_half_way_up_and_no_height_is_water()
    {
        // the sine of 45° of 254 steps from 1
        byte[] shades = Relief.Shade(3, [5, 5, 5, 5, double.NaN, 0, 5, 5, -3], [100, 100, 100], 100, 1);
        Assert.Equal([181, 181, 181, 181, 0, 0, 181, 181, 0], shades.Select(s => (int)s));
    }

    [Fact]
    public void A_name_stands_in_the_largest_part_of_its_outline_and_points_are_named_too()
    {
        string file = Path.GetTempFileName();
        File.WriteAllText(file, """
            { "type": "FeatureCollection", "features": [
              { "type": "Feature", "properties": { "country_code": "XA", "NAME": "Vessany" }, "geometry": { "type": "MultiPolygon",
                "coordinates": [[[[0, 0], [1, 0], [1, 1], [0, 1], [0, 0]]], [[[10, 10], [14, 10], [14, 13], [10, 13], [10, 10]]]] } },
              { "type": "Feature", "properties": { "name": "Round Isle" }, "geometry": { "type": "Point", "coordinates": [5, 6] } },
              { "type": "Feature", "properties": { "country_code": "XB" }, "geometry": { "type": "Polygon",
                "coordinates": [[[0, 0], [1, 0], [1, 1], [0, 0]]] } } ] }
            """);
        IReadOnlyList<NamedPlace> places = NamedPlaces.Read(file);
        File.Delete(file);
        Assert.Equal(["Vessany", "Round Isle"], places.Select(p => p.Name));
        Assert.Equal((12, 11.5), (places[0].At.LongitudeDegrees, places[0].At.LatitudeDegrees));
        Assert.Equal((10, 14), (places[0].Box.WestDegrees, places[0].Box.EastDegrees));
        Assert.Equal((5, 6), (places[1].At.LongitudeDegrees, places[1].At.LatitudeDegrees));
    }

    [Fact]
    public void How_unsure_the_map_is_has_colours_between_its_own_sure_and_unsure_cells()
    {
        // upper over lower by hand: 1.5 in nine cells of ten, 3 in the tenth
        MapScale scale = MapScale.OfRates(InputsOf(Enumerable.Range(0, 100).Select(i => (0.01, 0.008, i < 90 ? 0.012 : 0.024))));
        Assert.Equal([1.5, 3], scale.Unsure!.Ends);
        Assert.NotEqual(scale.Colours, scale.Unsure.Colours);
        Assert.All(scale.Unsure.Ticks, tick => Assert.InRange(tick, 1.5, 3));
    }

    [Fact]
    public void A_map_that_is_as_unsure_everywhere_still_has_a_scale_of_two_ends()
    {
        MapScale scale = MapScale.OfRates(InputsOf(Enumerable.Repeat((0.01, 0.008, 0.012), 4)));
        Assert.True(scale.Unsure!.Ends[0] < 1.5 && scale.Unsure.Ends[1] > 1.5);
    }

    [Fact]
    public void Measured_over_predicted_has_no_difference_in_its_middle_and_holds_the_sites()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        File.WriteAllText(Path.Combine(folder, "card.json"), "{}");
        // k of 0.02 was measured where e^-4 and e^-5 were predicted in two campaigns: 0.02 over e^-4.5 is 1.80
        File.WriteAllText(Path.Combine(folder, "held-out.csv"),
            "site_key,campaign,predicted\n\"a,b/S1\",1,-4\n\"a,b/S1\",2,-5\nnobody/S1,1,-4\n");
        ReleaseData data = new("0123456789ab", [Examples.Site("a,b", "S1")], [Examples.Burial("a,b", "S1", "1", 0.02)], [], [],
            [Examples.Contribution("a,b")], []);
        PagesInputs inputs = Examples.Inputs(data) with { Model = ModelFolder.Read(folder) };

        Dictionary<string, string> files = MapScripts.All(inputs).Concat(SiteScripts.All(inputs)).ToDictionary(f => f.File, f => f.Text);
        MapScale off = MapScale.OfRates(inputs).Off!;
        Directory.Delete(folder, recursive: true);

        Assert.Equal([0.5, 2], off.Ends);
        Assert.Equal(1, off.Ticks[off.Ticks.Count / 2], 1e-9);
        JsonElement sites = JsonDocument.Parse(files[SiteScripts.IndexFile].Split(" = ")[1].TrimEnd('\n', ';')).RootElement;
        int unseen = sites.GetProperty("columns").EnumerateArray().Select(c => c.GetString()).ToList().IndexOf("unseen");
        Assert.Equal(Math.Exp(-4.5), sites.GetProperty("rows")[0][unseen].GetDouble(), 1e-6);
    }

    private static PagesInputs InputsOf(IEnumerable<(double K, double Lower, double Upper)> cells)
    {
        (double K, double Lower, double Upper)[] all = [.. cells];
        return Examples.Inputs(Examples.WarmerIsFaster(3)) with
        {
            Raster = new MapRaster(all.Length, 1, 0, 0, 1, 1, false, [.. all.Select(c => c.K)], [.. all.Select(c => c.Lower)],
                [.. all.Select(c => c.Upper)], null),
        };
    }
}
