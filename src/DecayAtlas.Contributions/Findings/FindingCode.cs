using System.Reflection;

namespace DecayAtlas.Contributions.Findings;

/// <summary>The stable codes of <see cref="Finding.Code"/>. A code is never reused with another meaning.</summary>
public static class FindingCode
{
    public static IReadOnlyList<string> All { get; } =
    [
        .. typeof(FindingCode).GetFields(BindingFlags.Public | BindingFlags.Static).Where(field => field.IsLiteral)
            .Select(field => (string)field.GetRawConstantValue()!),
    ];

    // The package as a whole.
    public const string PackageNotFound = "package-not-found";
    public const string StrayFile = "stray-file";
    public const string ZipBroken = "zip-broken";
    public const string ZipEncrypted = "zip-encrypted";
    public const string ZipTooDense = "zip-too-dense";
    public const string PathUnsafe = "path-unsafe";
    public const string PathRepeated = "path-repeated";
    public const string LinkNotAllowed = "link-not-allowed";
    public const string FileUnreadable = "file-unreadable";
    public const string FileTooLarge = "file-too-large";
    public const string PackageTooLarge = "package-too-large";
    public const string TooManyFiles = "too-many-files";
    public const string PackageEmpty = "package-empty";
    public const string ChangedWhileRead = "changed-while-read";
    public const string TooCostly = "too-costly";

    /// <summary>The program made a mistake over it: nothing is wrong with the contribution as far as anybody knows.</summary>
    public const string NotExamined = "not-examined";

    // The descriptor and the files it names.
    public const string DescriptorMissing = "descriptor-missing";
    public const string DescriptorBroken = "descriptor-broken";
    public const string DescriptorInvalid = "descriptor-invalid";
    public const string LicenceNotOpen = "licence-not-open";
    public const string FileMissing = "file-missing";
    public const string FileNotListed = "file-not-listed";

    // A table's file and header.
    public const string EncodingNotUtf8 = "encoding-not-utf8";
    public const string DelimiterNotComma = "delimiter-not-comma";
    public const string CsvBroken = "csv-broken";
    public const string HeaderMissing = "header-missing";
    public const string TableOther = "table-other";
    public const string ColumnMissing = "column-missing";
    public const string ColumnExtra = "column-extra";
    public const string ColumnRepeated = "column-repeated";
    public const string TableEmpty = "table-empty";
    public const string TooManyRows = "too-many-rows";
    public const string RowWidth = "row-width";

    // A workbook.
    public const string WorkbookBroken = "workbook-broken";
    public const string WorkbookKind = "workbook-kind";
    public const string WorkbookTooLarge = "workbook-too-large";
    public const string SheetMissing = "sheet-missing";
    public const string SheetExtra = "sheet-extra";
    public const string CellError = "cell-error";
    public const string FormulaWithoutValue = "formula-without-value";
    public const string CellTypeWrong = "cell-type-wrong";

    // A wide table and its mapping.
    public const string KitEmpty = "kit-empty";
    public const string KitUnsure = "kit-unsure";
    public const string KitPlaceUnknown = "kit-place-unknown";
    public const string KitMassWord = "kit-mass-word";
    public const string KitMassZero = "kit-mass-zero";
    public const string MappingMissing = "mapping-missing";
    public const string MappingBroken = "mapping-broken";
    public const string MappingUnfinished = "mapping-unfinished";
    public const string MappingIncomplete = "mapping-incomplete";
    public const string ColumnUndecided = "column-undecided";
    public const string EncodingUnstated = "encoding-unstated";
    public const string DateOrderUnstated = "date-order-unstated";
    public const string DecimalSignOther = "decimal-sign-other";
    public const string NotDegrees = "not-degrees";
    public const string RowsDisagree = "rows-disagree";

    // A text, wherever it stands.
    public const string HalfLetter = "half-letter";

    // A cell.
    public const string ValueMissing = "value-missing";
    public const string NotANumber = "not-a-number";
    public const string DecimalComma = "decimal-comma";
    public const string NotYesOrNo = "not-yes-or-no";
    public const string NotADate = "not-a-date";
    public const string DateImpossible = "date-impossible";
    public const string NotAllowed = "value-not-allowed";
    public const string PatternMismatch = "pattern-mismatch";
    public const string OutOfRange = "out-of-range";
    public const string TooLong = "text-too-long";
    public const string ContactInTable = "contact-in-table";

    // Between rows and between contributions.
    public const string IdRepeated = "id-repeated";
    public const string IdUnknown = "id-unknown";
    public const string RevisionRepeated = "revision-repeated";
    public const string ContributionIdTaken = "contribution-id-taken";

    // Warnings: they do not keep a contribution out.
    public const string KitTyped = "kit-typed";
    public const string ThousandsRead = "thousands-read";
    public const string MassTenfold = "mass-tenfold";
    public const string MassUnlikely = "mass-unlikely";
    public const string SignMissing = "sign-missing";
    public const string CoordinatesSwapped = "coordinates-swapped";
    public const string WeighingsSwapped = "weighings-swapped";
    public const string CampaignDays = "campaign-days";
    public const string HiddenPlaceNamed = "hidden-place-named";
    public const string BurialAtTwoSites = "burial-at-two-sites";
    public const string BurialWithTwoBags = "burial-with-two-bags";
    public const string LostYetWeighed = "lost-yet-weighed";
    public const string DamagedBag = "damaged-bag";
    public const string TableBeside = "table-beside";
    public const string RemarkNotToUse = "remark-not-to-use";
    public const string RemarkOfDamage = "remark-of-damage";
    public const string RemarkOfFault = "remark-of-fault";
    public const string RemarkUnread = "remark-unread";
    public const string RemarkOfWet = "remark-of-wet";
    public const string LittersSwapped = "litters-swapped";
    public const string DriedAndMoist = "dried-and-moist";
    public const string SdWithoutValue = "sd-without-value";
    public const string ChemistryImpossible = "chemistry-impossible";
    public const string WaterUnstated = "water-unstated";
    public const string ResultIncomplete = "result-incomplete";
    public const string ResultDaysDiffer = "result-days-differ";
    public const string ResultOfTwoKinds = "result-of-two-kinds";
    public const string ResultWithoutScatter = "result-without-scatter";
    public const string WordNotOurs = "word-not-ours";
    public const string ResultWithoutMethod = "result-without-method";
    public const string ResultWithoutGene = "result-without-gene";
    public const string ShannonAboveRichness = "shannon-above-richness";

    /// <summary>Not a fault: says how many findings are not listed.</summary>
    public const string MoreFindings = "more-findings";
}
