using System.Reflection;
using System.Text.RegularExpressions;

namespace DecayAtlas.Cli.Tests;

/// <summary>
/// A regular expression that goes back can take for ever on a text that somebody else wrote. So each one of the program is of the kind that
/// never does, or has a limit of time.
/// </summary>
public class RegularExpressions
{
    private const BindingFlags All =
        BindingFlags.Static | BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;

    [Fact]
    public void Every_generated_expression_and_every_expression_in_a_static_field_is_bounded()
    {
        List<(string Where, Regex Expression)> found = [];
        foreach (Type type in Directory.GetFiles(AppContext.BaseDirectory, "*.dll")
            .Where(file => Path.GetFileName(file).StartsWith("decayatlas", StringComparison.OrdinalIgnoreCase))
            .Where(file => !file.EndsWith("Tests.dll", StringComparison.Ordinal)).SelectMany(file => Assembly.LoadFrom(file).GetTypes()))
        {
            if (type.ContainsGenericParameters)
                continue;
            found.AddRange(type.GetMethods(All).Where(method => method.GetCustomAttribute<GeneratedRegexAttribute>() is not null)
                .Select(method => ($"{type}.{method.Name}", (Regex)method.Invoke(null, null)!)));
            found.AddRange(type.GetProperties(All).Where(property => property.GetCustomAttribute<GeneratedRegexAttribute>() is not null)
                .Select(property => ($"{type}.{property.Name}", (Regex)property.GetValue(null)!)));
            found.AddRange(type.GetFields(All)
                .Where(field => field is { IsStatic: true, IsLiteral: false } && field.FieldType == typeof(Regex)
                    && field.DeclaringType!.Namespace?.StartsWith("DecayAtlas", StringComparison.Ordinal) == true)
                .Select(field => ($"{type}.{field.Name}", (Regex)field.GetValue(null)!)));
        }
        int generated = Directory.EnumerateFiles(Path.Combine(Root(), "src"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Sum(file => File.ReadAllText(file).Split("[GeneratedRegex(").Length - 1);
        Assert.True(generated > 10 && found.Count >= generated, $"{generated} expressions are generated, and {found.Count} were found");
        Assert.Empty(found.Where(one => !IsBounded(one.Expression)).Select(one => one.Where));
    }

    [Fact]
    public void Every_pattern_of_the_schema_is_bounded()
    {
        Regex[] patterns = [.. SchemaCatalogue.Tables.SelectMany(table => table.Fields).Select(field => field.Pattern).OfType<Regex>()];
        Assert.NotEmpty(patterns);
        Assert.All(patterns, pattern => Assert.True(IsBounded(pattern)));
    }

    /// <summary>What reflection can't see: expressions that are made where they are used.</summary>
    [Fact]
    public void Every_expression_in_the_sources_says_that_it_never_goes_back_or_how_long_it_may_take()
    {
        string[] files = [.. Directory.EnumerateFiles(Path.Combine(Root(), "src"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))];
        Assert.True(files.Length > 100, "the sources were not found");
        string[] unbounded = [
            .. files.SelectMany(file => Unbounded(File.ReadAllText(file)).Select(statement => $"{Path.GetFileName(file)}: {statement}"))];
        Assert.Empty(unbounded);
    }

    [Theory]
    [InlineData("var made = new Regex(pattern);")]
    [InlineData("return Regex.IsMatch(text, \"(a+)+b\");")]
    [InlineData("Regex.Replace(text, pattern, \"\");")]
    [InlineData("[GeneratedRegex(\"(a+)+b\", RegexOptions.IgnoreCase)]\nprivate static partial Regex Bad();")]
    [InlineData("private static readonly Regex Bad = new(\"(a+)+b\", RegexOptions.Compiled);")]
    public void An_expression_without_a_bound_is_found(string source) => Assert.Single(Unbounded(source));

    [Theory]
    [InlineData("var made = new Regex(pattern, RegexOptions.NonBacktracking);")]
    [InlineData("[GeneratedRegex(\"a+\", RegexOptions.None, matchTimeoutMilliseconds: 1000)]\nprivate static partial Regex Good();")]
    [InlineData("private static readonly Regex Good = new(\"a+\", RegexOptions.None, matchTimeout: TimeSpan.FromSeconds(1));")]
    [InlineData("private Regex? given;")]
    public void An_expression_with_a_bound_is_left_alone(string source) => Assert.Empty(Unbounded(source));

    private static IEnumerable<string> Unbounded(string source)
    {
        foreach (string begin in new[] { "new Regex(", "Regex.IsMatch(", "Regex.Match(", "Regex.Matches(", "Regex.Replace(",
            "Regex.Split(", "Regex.Count(", "Regex.EnumerateMatches(", "Regex.EnumerateSplits(", "[GeneratedRegex(", " = new(" })
        {
            for (int at = source.IndexOf(begin, StringComparison.Ordinal); at >= 0; at =
                source.IndexOf(begin, at + 1, StringComparison.Ordinal))
            {
                if (begin == " = new(" && !source[(source.LastIndexOf('\n', at) + 1)..at].Contains("Regex ", StringComparison.Ordinal))
                    continue;
                int end = source.IndexOf(begin[0] == '[' ? "Regex " : ";", at, StringComparison.Ordinal);
                string statement = source[at..(end < 0 ? source.Length : end)];
                if (!statement.Contains("NonBacktracking", StringComparison.Ordinal)
                    && !statement.Contains("matchTimeout", StringComparison.Ordinal))
                {
                    yield return statement;
                }
            }
        }
    }

    private static bool IsBounded(Regex expression) => expression.Options.HasFlag(RegexOptions.NonBacktracking)
        || expression.MatchTimeout != Regex.InfiniteMatchTimeout;

    private static string Root()
    {
        DirectoryInfo folder = new(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "DecayAtlas.sln")))
            folder = folder.Parent ?? throw new InvalidOperationException("DecayAtlas.sln was not found above the tests.");
        return folder.FullName;
    }
}
