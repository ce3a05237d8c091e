using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>The map page of the demo switched to S and to both together, held against the files by GDAL.</summary>
public class MapOfTwoQuantities(DemoRun demo, Browser browser) : IClassFixture<Browser>
{
    private string Folder => Path.GetFullPath(demo.Workspace.PathOf("atlas/current/pages"));

    [Theory]
    [InlineData("", "Stabilisation factor S")]
    [InlineData("de/", "Stabilisierungsfaktor S")]
    public async Task The_switch_shows_each_quantity_with_its_own_legend(string folder, string scale)
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, folder + "map.html");
        // on a scale of ln k a half-life stands where its k would: k = ln 2 / half-life, by the places of two marks of k
        (double K, double At)[] rates = await MarksAsync("#ticks"), days = await MarksAsync("#half-lives");
        Assert.True(rates.Length >= 3 && days.Length >= 3);
        double width = (rates[^1].At - rates[0].At) / Math.Log(rates[^1].K / rates[0].K);
        Assert.All(days, d => Assert.Equal(rates[0].At + width * Math.Log(Math.Log(2) / d.K / rates[0].K), d.At, 0.05));

        await window.Page.CheckAsync("#layers input[value=width]");
        Assert.False(await window.Page.IsVisibleAsync("#half-lives"));
        Assert.True(await window.Page.IsVisibleAsync("#legend [data-what='width.k']"));
        Assert.True(await window.Page.Locator(".pin .plain").CountAsync() > 0 && await window.Page.Locator(".pin .onlight").CountAsync() == 0);
        await window.Page.CheckAsync("#layers input[value=rate]");

        await window.Page.CheckAsync("#quantities input[value=s]");
        await window.Page.WaitForSelectorAsync("html[data-shown=s]", new() { State = WaitForSelectorState.Attached });
        Assert.False(await window.Page.IsVisibleAsync("#half-lives"));
        Assert.Equal(scale, await window.Page.InnerTextAsync("#legend [data-what=s]"));
        Assert.All(await MarksAsync("#ticks"), s => Assert.InRange(s.K, 0.1, 0.6));

        await window.Page.CheckAsync("#quantities input[value=joint]");
        await window.Page.WaitForSelectorAsync("html[data-shown=joint]",
            new() { State = WaitForSelectorState.Attached });
        Assert.True(await window.Page.IsVisibleAsync("#legend-joint") && !await window.Page.IsVisibleAsync("#legend-scale"));
        Assert.True(await window.Page.IsDisabledAsync("#layers input[value=lower]"));
        Assert.Empty(window.Complaints);

        async Task<(double K, double At)[]> MarksAsync(string of) => [.. (await window.Page.EvaluateAsync<double[][]>(
            "of => [...document.querySelectorAll(of + ' span')].map(e => [Number(e.dataset.value), parseFloat(e.style.left)])", of))
            .Select(m => (m[0], m[1]))];
    }

    [Fact]
    public async Task Measured_against_predicted_is_what_DuckDB_makes_of_the_tables()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html#layer=off");
        string said = await window.Page.EvaluateAsync<string>("""
            () => JSON.stringify(Object.fromEntries(window.atlasIndex.rows.filter(r => r[3] !== null && r[14] !== null).map(r =>
              [r[0], window.atlas.prediction.quantities.k.between(r[14], r[3])])))
            """);
        Dictionary<string, double> shown = JsonSerializer.Deserialize<Dictionary<string, double>>(said)!;
        Dictionary<string, double> asked = demo.Workspace.Query(
            """
            WITH p AS (SELECT site_key, avg(predicted) AS ln_k FROM read_csv('atlas/models/current/held-out.csv') GROUP BY site_key),
            m AS (SELECT site_key, avg(ln(k_per_day)) AS ln_k FROM read_parquet('atlas/current/burials/**/*.parquet') WHERE
              use = 'accepted' AND k_per_day > 0 AND (treatment IS NULL OR lower(treatment) IN ('control', 'none')) GROUP BY site_key)
            SELECT site_key, exp(m.ln_k - p.ln_k) FROM m JOIN p USING (site_key)
            """).ToDictionary(r => (string)r[0]!, r => (double)r[1]!);
        Assert.True(asked.Count > 200, $"{asked.Count} sites");
        Assert.All(asked, site => Assert.Equal(site.Value, shown[site.Key], 2e-5 * site.Value));
        // a purple mark is slower than predicted, an orange one faster
        Assert.True(await window.Page.IsVisibleAsync("#legend [data-what='off.k']"));
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task The_map_prints_whole_in_its_colours_with_the_legend_beside_it()
    {
        await using WatchedPage window = await browser.OpenAsync(390, 800, ColorScheme.Dark);
        await window.GoToAsync(Folder, "map.html");
        string address = await window.Page.EvaluateAsync<string>("location.href");
        await window.Page.EmulateMediaAsync(new() { Media = Media.Print });
        string[] said = await window.Page.EvaluateAsync<string[]>("""
            () => {
              dispatchEvent(new Event('beforeprint'));
              const map = document.getElementById('map').getBoundingClientRect(), found = [];
              const legend = document.getElementById('legend').getBoundingClientRect();
              if (legend.left < map.right || legend.top > map.bottom) found.push('the legend is not beside the map');
              // landscape A4 without its margins is 269 by 188 mm, at 96 pixels an inch
              if (legend.right > 269 / 25.4 * 96 + 40 || map.height > 188 / 25.4 * 96) found.push('wider or higher than a sheet');
              for (const mark of document.querySelectorAll('.pin span:not(.hollow), .bundle span')) {
                const at = mark.getBoundingClientRect();
                if (at.left < map.left - 20 || at.right > map.right + 20 || at.top < map.top - 20 || at.bottom > map.bottom + 20)
                  found.push('off the map: ' + mark.closest('[aria-label]').getAttribute('aria-label'));
              }
              for (const part of ['#map', '#ramp', '.bundle span', '.keys .site'])
                if (getComputedStyle(document.querySelector(part)).printColorAdjust !== 'exact') found.push('without colours: ' + part);
              dispatchEvent(new Event('afterprint'));
              return found;
            }
            """);
        Assert.Empty(said);
        // the screen is as it was
        Assert.Equal(address, await window.Page.EvaluateAsync<string>("location.href"));
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_link_keeps_what_is_seen_and_a_place_is_found_by_its_name()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html");
        await window.Page.FillAsync("#seek", "torrel");
        await window.Page.Keyboard.PressAsync("Enter");
        await window.Page.CheckAsync("#layers input[value=width]");
        await window.Page.SelectOptionAsync("#ecosystem", "forest");
        await window.Page.WaitForFunctionAsync("() => /at=-4[12]/.test(location.hash) && !document.querySelector('.leaflet-zoom-anim')");
        string address = await window.Page.EvaluateAsync<string>("location.hash"), seen = await SeenAsync();
        await window.GoToAsync(Folder, "map.html" + address);
        Assert.Equal(seen, await SeenAsync());
        Assert.Contains("42.0° S", seen, StringComparison.Ordinal);
        await window.Page.FillAsync("#seek", "nowhere at all");
        await window.Page.Keyboard.PressAsync("Enter");
        Assert.Contains("nowhere at all", await window.Page.InnerTextAsync("#sought"), StringComparison.Ordinal);
        Assert.Empty(window.Complaints);

        Task<string> SeenAsync() => window.Page.EvaluateAsync<string>("""
            () => [...document.querySelectorAll('input:checked')].map(e => e.value).join() + document.getElementById('ecosystem').value
              + document.querySelector('.leaflet-control-scale-line').innerText
              + [...document.querySelectorAll('.degrees span')].map(e => e.innerText).sort().join()
            """);
    }

    [Fact]
    public async Task The_page_tells_the_classes_that_the_file_holds()
    {
        Assert.SkipUnless(Command.Has("gdallocationinfo"), "gdallocationinfo is not installed (Debian package gdal-bin)");
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html#of=joint");
        await window.Page.WaitForSelectorAsync("html[data-shown=joint]",
            new() { State = WaitForSelectorState.Attached });
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
