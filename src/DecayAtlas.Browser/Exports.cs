using System.Globalization;
using System.Runtime.InteropServices.JavaScript;
using System.Text.Json;

namespace DecayAtlas.Browser;

/// <summary>What the page asks of the program: texts in, texts out, JSON where there is more than one. Files lie in the memory of the
/// page, in a folder that each new contribution empties.</summary>
internal static partial class Exports
{
    private static CheckReport? _read;
    private static string? _mappingPath;

    /// <summary>Runs what a check runs, for the time until a file comes; in steps, since each holds the page for a moment.</summary>
    [JSExport]
    internal static void WarmRead() => WarmUp.Read();

    [JSExport]
    internal static void WarmView() => WarmUp.View();

    [JSExport]
    internal static void WarmMap() => WarmUp.Draw();

    /// <summary>Takes in one file of a contribution.</summary>
    /// <param name="path">Its name, or its path within a folder that was dropped.</param>
    [JSExport]
    internal static void Put(string path, byte[] bytes) => DroppedFiles.Put(path, bytes);

    /// <summary>Forgets all files.</summary>
    [JSExport]
    internal static void Clear() => DroppedFiles.Clear();

    /// <summary>Reads the files as a contribution, and gives what <c>decayatlas check --json</c> prints of the same.</summary>
    /// <param name="mapping">YAML, or null where there is none or it was dropped too.</param>
    /// <param name="confirmed">Whether the sender said that what is unusual is right.</param>
    /// <param name="today">YYYY-MM-DD, as the day is in Greenwich.</param>
    [JSExport]
    internal static string Check(string? mapping, bool confirmed, string today)
    {
        _mappingPath = DroppedFiles.MappingOf(mapping);
        _read = new CheckReport(ReceivedText.Name(Path.GetFileName(DroppedFiles.Path)),
            ContributionReader.Read(DroppedFiles.Path, IntakeLimits.Default, _mappingPath),
            DateOnly.ParseExact(today, "yyyy-MM-dd", CultureInfo.InvariantCulture))
        { IsConfirmed = confirmed };
        return CheckAnswer.Json(DroppedFiles.Name, _read);
    }

    /// <summary>What the sender looks at of what was checked last, in a language.</summary>
    [JSExport]
    internal static string View(string language) =>
        CheckView.Json(DroppedFiles.Path, _mappingPath, IntakeLimits.Default, _read!, WordsOf(language));

    /// <summary>The contribution that was checked last as one zip to send; empty where it is not valid.</summary>
    /// <param name="revision">The number of this version where it mends what was sent before, else 0.</param>
    [JSExport]
    internal static byte[] Package(int revision) =>
        SentPackage.Of(DroppedFiles.Path, IntakeLimits.Default, _mappingPath, revision > 0 ? revision : null)?.Zip ?? [];

    /// <summary>The mapping by which the contribution was read, for next time; empty where it needs none.</summary>
    /// <param name="revision">As for <see cref="Package"/>.</param>
    [JSExport]
    internal static string Answers(int revision) => (_mappingPath ?? DroppedFiles.MappingBeside) is not { } path ? ""
        : revision > 0 ? RevisedMapping.Of(Path.GetFileName(path), File.ReadAllText(path), revision) : File.ReadAllText(path);

    /// <summary>Goes on with the questions about a table.</summary>
    /// <param name="asked">An <see cref="AskedTableRequest"/>.</param>
    /// <returns>An <see cref="Inquiry"/>.</returns>
    [JSExport]
    internal static string Inquire(string asked)
    {
        AskedTableRequest request = JsonSerializer.Deserialize<AskedTableRequest>(asked, JsonText.Options)!;
        try
        {
            Phrases words = WordsOf(request.Language);
            Inquiry inquiry = SheetInquiry.Of(DroppedFiles.Path, request.Campaign?.Read(), request.Answers, words, IntakeLimits.Default,
                request.Today);
            return JsonSerializer.Serialize(FindingWords.Said(inquiry, words), JsonText.Options);
        }
        catch (ConfigurationException fault)
        {
            return JsonSerializer.Serialize(new { campaign_fault = fault.Message }, JsonText.Options);
        }
    }

    /// <summary>Outlines of land for a map of a box (degrees): rings of [longitude, latitude].</summary>
    [JSExport]
    internal static string Land(double south, double west, double north, double east) =>
        JsonSerializer.Serialize(LandInView.Of(new ViewBox(south, west, north, east)));

    private static Phrases WordsOf(string language) => SenderWords.Find(language) ?? SenderWords.Find("en")!;
}
