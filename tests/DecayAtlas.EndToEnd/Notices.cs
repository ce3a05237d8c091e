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
}
