using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>The map page of the demo switched to S and to both together, held against the files by GDAL.</summary>
public class MapOfTwoQuantities(DemoRun demo, Browser browser) : IClassFixture<Browser>
{
    private string Folder => Path.GetFullPath(demo.Workspace.PathOf("atlas/current/pages"));

    [Theory]
    [InlineData("", "S")]
    [InlineData("de/", "S")]
    public async Task The_switch_shows_each_quantity_with_its_own_legend(string folder, string scale)
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, folder + "map.html");
        Assert.True(await window.Page.IsVisibleAsync("#half-lives"));
        double low = Number(await window.Page.InnerTextAsync("#low"));
        // the longest half-life is that of the lowest k of the scale, which is written to two digits
        Assert.Equal(Math.Log(2) / low, Number(await window.Page.InnerTextAsync("#longest")), 0.02 * Math.Log(2) / low);

        await window.Page.CheckAsync("#quantities input[value=s]");
        await window.Page.WaitForSelectorAsync("html[data-shown=s]", new() { State = Microsoft.Playwright.WaitForSelectorState.Attached });
        Assert.False(await window.Page.IsVisibleAsync("#half-lives"));
        Assert.Equal(scale, await window.Page.InnerTextAsync("#legend .of-s"));
        Assert.InRange(Number(await window.Page.InnerTextAsync("#high")), 0.2, 0.6);

        await window.Page.CheckAsync("#quantities input[value=joint]");
        await window.Page.WaitForSelectorAsync("html[data-shown=joint]",
            new() { State = Microsoft.Playwright.WaitForSelectorState.Attached });
        Assert.True(await window.Page.IsVisibleAsync("#legend-joint") && !await window.Page.IsVisibleAsync("#legend-scale"));
        Assert.True(await window.Page.IsDisabledAsync("#layers input[value=lower]"));
        Assert.Empty(window.Complaints);

        static double Number(string text) =>
            double.Parse(text.Trim('≤', '≥', ' ').Replace(',', '.'), CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task The_page_tells_the_classes_that_the_file_holds()
    {
        Assert.SkipUnless(Command.Has("gdallocationinfo"), "gdallocationinfo is not installed (Debian package gdal-bin)");
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html#of=joint");
        await window.Page.WaitForSelectorAsync("html[data-shown=joint]",
            new() { State = Microsoft.Playwright.WaitForSelectorState.Attached });
        // middles of cells of the picture, all over the islands
        string said = await window.Page.EvaluateAsync<string>("""
            () => {
              const p = window.atlas.prediction, k = p.unpack(window.atlasPrediction), s = p.unpack(window.atlasStabilisation);
              const b = k.box, found = [];
              for (let row = 20; row < b.rows; row += 37) for (let column = 15; column < b.columns; column += 29) {
                const lat = b.north - (row + 0.5) * (b.north - b.south) / b.rows;
                const lon = b.west + (column + 0.5) * (b.east - b.west) / b.columns;
                const at = p.jointAt(k, s, lat, lon);
                if (at && at.told) found.push([lon, lat, at.code]);
              }
              return JSON.stringify(found);
            }
            """);
        double[][] told = JsonSerializer.Deserialize<double[][]>(said)!;
        Assert.True(told.Length >= 5, said);
        foreach (double[] at in told)
        {
            string[] bands = Command.Run(demo.Workspace.Folder, "gdallocationinfo", "-valonly", "-wgs84",
                "atlas/maps/current-joint/joint.tif", at[0].ToString("R", CultureInfo.InvariantCulture),
                at[1].ToString("R", CultureInfo.InvariantCulture)).Output.Split('\n');
            Assert.Equal((at[2].ToString(CultureInfo.InvariantCulture), "1"), (bands[0], bands[1]));
        }
    }
}
