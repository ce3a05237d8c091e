using System.Text.Json;

namespace DecayAtlas.EndToEnd;

public class Notices
{
    [Fact]
    public void Every_package_that_the_program_is_built_from_is_listed_with_its_version_and_licence_and_no_other()
    {
        using JsonDocument locked = JsonDocument.Parse(File.ReadAllText(Project.PathOf("src/DecayAtlas.Cli/packages.lock.json")));
        IEnumerable<string> used = locked.RootElement.GetProperty("dependencies").GetProperty("net10.0").EnumerateObject()
            .Where(package => package.Value.TryGetProperty("resolved", out _))
            .Select(package => $"{package.Name} {package.Value.GetProperty("resolved").GetString()}");

        string[] rows = File.ReadAllLines(Project.PathOf("docs/third-party-notices.md")).SkipWhile(line => line != "## Libraries").Skip(4)
            .TakeWhile(line => line.StartsWith('|')).ToArray();
        string[][] cells = [.. rows.Select(row => row.Split('|', StringSplitOptions.TrimEntries))];

        Assert.Equal(used.Order(StringComparer.OrdinalIgnoreCase), cells.Select(row => $"{row[1]} {row[2]}")
            .Order(StringComparer.OrdinalIgnoreCase));
        Assert.All(cells, row => Assert.Contains(row[3], new[] { "MIT", "BSD-3-Clause", "Apache-2.0" }));
    }

    [Fact]
    public void What_pages_and_pictures_hold_of_others_is_listed()
    {
        string held = File.ReadAllText(Project.PathOf("docs/third-party-notices.md")).Split("## In the pages and pictures")[1]
            .Split("\n## ")[0];
        string besidePages = File.ReadAllText(Project.PathOf("src/DecayAtlas.Pages/Assets/LICENCES.txt"));
        Ramp[] ramps = [.. typeof(Ramp).GetProperties().Where(p => p.PropertyType == typeof(Ramp)).Select(p => (Ramp)p.GetValue(null)!)];
        Assert.All(ramps, ramp => Assert.Contains(ramp.Palette, held, StringComparison.Ordinal));
        Assert.All(ramps, ramp => Assert.Contains(ramp.Palette, besidePages, StringComparison.Ordinal));

        // a vendored script is named by its file, a font by its licence beside it
        IEnumerable<string> vendored = Directory.GetFiles(Project.PathOf("src/DecayAtlas.Pages/Assets/vendor"))
            .Select(file => Path.GetFileName(file).Split('.')[0]).Distinct();
        Assert.All(vendored, name => Assert.Contains(name, held, StringComparison.OrdinalIgnoreCase));
        Assert.Contains("Inter", held, StringComparison.Ordinal);
    }
}
