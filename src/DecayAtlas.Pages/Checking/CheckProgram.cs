using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.Pages.Checking;

/// <summary>The check compiled for browsers, as scripts: a page that was opened from disk may load scripts and nothing else, so that the
/// same page works from a folder, from any web host and from the server.</summary>
/// <remarks>It is there where <c>dotnet publish src/DecayAtlas.Browser</c> went before the build of this assembly.</remarks>
internal static partial class CheckProgram
{
    public const string ProgramFile = "data/check-program.js", RuntimeFile = "data/check-runtime.js";

    private const string Folder = "check/", Loader = "dotnet.js", Native = "dotnet.native.js", Runtime = "dotnet.runtime.js";

    // what of the runtime's list is fetched as bytes
    private static readonly string[] Kinds = ["wasmNative", "coreAssembly", "assembly"];

    /// <summary>Whether this build has it; pages say nothing of a check where it has not.</summary>
    public static bool IsThere { get; } = typeof(CheckProgram).Assembly.GetManifestResourceInfo(Folder + Loader) is not null;

    /// <summary>The assemblies and the machine that runs them, each packed by gzip, in letters.</summary>
    public static string Program => Packed.Value;

    /// <summary>The runtime's three modules as one plain script, since a page from disk may not import modules.</summary>
    public static string RuntimeScript => Joined.Value;

    private static readonly Lazy<string> Packed = new(() => Script.Assign(
        "atlasProgram", Assets().ToDictionary(name => name, name => Convert.ToBase64String(Bytes(name + ".gz"))))
        // a plus of base64 needs no escape, which would be a fortieth more to fetch
        .Replace("\\u002B", "+", StringComparison.Ordinal));

    private static readonly Lazy<string> Joined = new(() => $$"""
        (function () {
        'use strict';
        var modules = {};
        modules.native = (function () {
        {{AsFunction(Native)}}
        })();
        modules.runtime = (function () {
        {{AsFunction(Runtime)}}
        })();
        window.atlasRuntime = (function () {
        {{Given(AsFunction(Loader), (Native, "native"), (Runtime, "runtime"))}}
        })();
        })();

        """);

    /// <summary>Modules that the loader would fetch, handed to it in its list.</summary>
    private static string Given(string loader, params (string Name, string Module)[] modules) => modules.Aggregate(loader,
        (text, m) => text.Replace($"\"name\": \"{m.Name}\"", $"\"name\": \"{m.Name}\", \"moduleExports\": modules.{m.Module}",
            StringComparison.Ordinal));

    /// <summary>What the runtime's own list names, and no leftover beside it.</summary>
    private static IEnumerable<string> Assets()
    {
        using JsonDocument list = JsonDocument.Parse(List().Match(Text(Loader)).Groups[1].Value);
        return [.. Kinds.SelectMany(kind => list.RootElement.GetProperty("resources").GetProperty(kind).EnumerateArray().ToArray())
            .Select(asset => asset.GetProperty("name").GetString()!).Order(StringComparer.Ordinal)];
    }

    /// <summary>A module as the body of a function that gives back what it exports.</summary>
    private static string AsFunction(string module)
    {
        string text = SourceMap().Replace(Text(module), "").Replace("import.meta.url", "document.baseURI", StringComparison.Ordinal);
        // what a module exports stands at its end
        if (NamedExports().Matches(text) is [.., Match named])
        {
            return text.Remove(named.Index, named.Length) + "\nreturn {"
                + string.Join(',', named.Groups[1].Value.Split(',').Select(pair => pair.Split(" as "))
                    .Select(pair => $"\"{pair[^1].Trim()}\": {pair[0].Trim()}")) + "};";
        }

        Match only = DefaultExport().Matches(text)[^1];
        return text.Remove(only.Index, only.Length) + $"\nreturn {{\"default\": {only.Groups[1].Value}}};";
    }

    private static string Text(string name) => Encoding.UTF8.GetString(Bytes(name)).ReplaceLineEndings("\n");

    private static byte[] Bytes(string name)
    {
        using Stream stream = typeof(CheckProgram).Assembly.GetManifestResourceStream(Folder + name)!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    [GeneratedRegex(@"/\*json-start\*/(.*)/\*json-end\*/", RegexOptions.Singleline | RegexOptions.NonBacktracking)]
    private static partial Regex List();

    [GeneratedRegex(@"export\s*\{([^}]*)\}\s*;", RegexOptions.NonBacktracking)]
    private static partial Regex NamedExports();

    [GeneratedRegex(@"export default (\w+);", RegexOptions.NonBacktracking)]
    private static partial Regex DefaultExport();

    [GeneratedRegex(@"^//# sourceMappingURL=.*$", RegexOptions.Multiline | RegexOptions.NonBacktracking)]
    private static partial Regex SourceMap();
}
