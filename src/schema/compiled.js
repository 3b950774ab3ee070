// Generated from the schemas by scripts/schemas.mjs; do not edit.
"use strict";
export const validateShow = validate52;
const schema19 = {"$schema":"https://json-schema.org/draft/2020-12/schema","$id":"linecut:show","title":"linecut show file","description":"What a live show was made of: its sources and their recordings, its rate, its sound. Read beside a switching log.","type":"object","additionalProperties":false,"properties":{"$schema":{"type":"string","description":"Path of this schema, for editors that check while you type."},"title":{"type":"string","description":"Title of the list."},"rate":{"type":"string","description":"Rate of the list: 25, 29.97df, 59.94ndf, 30000/1001, …"},"recordStart":{"type":"string","description":"Timecode of the list's first frame; 01:00:00:00 where nothing is said."},"sources":{"type":"array","description":"The inputs of the switcher and the sound-only recordings.","items":{"$ref":"#/$defs/source"}},"program":{"$ref":"#/$defs/recording","description":"The program recording: the switched output, where it was recorded."},"audio":{"type":"object","description":"Where program sound comes from.","additionalProperties":false,"properties":{"from":{"type":"string","description":"A source's id, program, follow (each shot's own source) or none."},"channels":{"type":"array","description":"Which of its channels feed A1, A2, …; the first two where nothing is said.","minItems":1,"items":{"type":"integer","minimum":1}}}},"log":{"$ref":"linecut:mapping","description":"How to read the log: a whole mapping."}},"$defs":{"source":{"type":"object","required":["id"],"$ref":"#/$defs/recording"},"recording":{"type":"object","additionalProperties":false,"properties":{"id":{"type":"string","pattern":"\\S","description":"What the log calls it. Not black, program, follow or none."},"name":{"type":"string","pattern":"\\S","description":"What people call it; the id where nothing is said."},"reel":{"type":"string","pattern":"\\S","description":"Its reel in an EDL; made from the name where nothing is said."},"aliases":{"type":"array","description":"Further words of the log for it.","items":{"type":"string","pattern":"\\S"}},"start":{"type":["string","array"],"description":"Timecode of the first frame of the recording; a list has one for each take.","items":{"type":"string"}},"offset":{"type":"integer","description":"Frames to add to every source in-point, for a picture that arrives late."},"sync":{"type":"object","description":"Two labels for one moment: this of the recording, is of the log.","additionalProperties":false,"required":["this","is"],"properties":{"this":{"type":"string"},"is":{"type":"string"}}},"files":{"type":"array","description":"The recorded files, in order.","items":{"$ref":"#/$defs/file"}},"recorded":{"type":"boolean","description":"false for an input that was not recorded."},"picture":{"type":"boolean","description":"false for a sound-only recording: heard, never switched to."}}},"file":{"type":"object","additionalProperties":false,"required":["path"],"properties":{"path":{"type":"string","pattern":"\\S","description":"Relative to the show file, absolute, or a file URL."},"start":{"type":"string","description":"Timecode of its first frame."},"frames":{"type":"integer","minimum":1,"description":"Its length in frames."},"rate":{"type":"string","description":"Its own rate."},"channels":{"type":"integer","minimum":0,"description":"How many sound channels it has."},"size":{"type":"integer","minimum":0,"description":"Its size in bytes, by which it is known again after a move."}}}}};
const schema20 = {"type":"object","required":["id"],"$ref":"#/$defs/recording"};
const schema21 = {"type":"object","additionalProperties":false,"properties":{"id":{"type":"string","pattern":"\\S","description":"What the log calls it. Not black, program, follow or none."},"name":{"type":"string","pattern":"\\S","description":"What people call it; the id where nothing is said."},"reel":{"type":"string","pattern":"\\S","description":"Its reel in an EDL; made from the name where nothing is said."},"aliases":{"type":"array","description":"Further words of the log for it.","items":{"type":"string","pattern":"\\S"}},"start":{"type":["string","array"],"description":"Timecode of the first frame of the recording; a list has one for each take.","items":{"type":"string"}},"offset":{"type":"integer","description":"Frames to add to every source in-point, for a picture that arrives late."},"sync":{"type":"object","description":"Two labels for one moment: this of the recording, is of the log.","additionalProperties":false,"required":["this","is"],"properties":{"this":{"type":"string"},"is":{"type":"string"}}},"files":{"type":"array","description":"The recorded files, in order.","items":{"$ref":"#/$defs/file"}},"recorded":{"type":"boolean","description":"false for an input that was not recorded."},"picture":{"type":"boolean","description":"false for a sound-only recording: heard, never switched to."}}};
const func1 = Object.prototype.hasOwnProperty;
const pattern3 = new RegExp("\\S", "u");
const schema22 = {"type":"object","additionalProperties":false,"required":["path"],"properties":{"path":{"type":"string","pattern":"\\S","description":"Relative to the show file, absolute, or a file URL."},"start":{"type":"string","description":"Timecode of its first frame."},"frames":{"type":"integer","minimum":1,"description":"Its length in frames."},"rate":{"type":"string","description":"Its own rate."},"channels":{"type":"integer","minimum":0,"description":"How many sound channels it has."},"size":{"type":"integer","minimum":0,"description":"Its size in bytes, by which it is known again after a move."}}};

function validate55(data, {instancePath="", parentData, parentDataProperty, rootData=data, dynamicAnchors={}}={}){
let vErrors = null;
let errors = 0;
const evaluated0 = validate55.evaluated;
if(evaluated0.dynamicProps){
evaluated0.props = undefined;
}
if(evaluated0.dynamicItems){
evaluated0.items = undefined;
}
if(data && typeof data == "object" && !Array.isArray(data)){
if(data.path === undefined){
const err0 = {instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: "path"},message:"must have required property '"+"path"+"'",schema:schema22.required,parentSchema:schema22,data};
if(vErrors === null){
vErrors = [err0];
}
else {
vErrors.push(err0);
}
errors++;
}
for(const key0 in data){
if(!((((((key0 === "path") || (key0 === "start")) || (key0 === "frames")) || (key0 === "rate")) || (key0 === "channels")) || (key0 === "size"))){
const err1 = {instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties",schema:false,parentSchema:schema22,data};
if(vErrors === null){
vErrors = [err1];
}
else {
vErrors.push(err1);
}
errors++;
}
}
if(data.path !== undefined){
let data0 = data.path;
if(typeof data0 === "string"){
if(!pattern3.test(data0)){
const err2 = {instancePath:instancePath+"/path",schemaPath:"#/properties/path/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema22.properties.path,data:data0};
if(vErrors === null){
vErrors = [err2];
}
else {
vErrors.push(err2);
}
errors++;
}
}
else {
const err3 = {instancePath:instancePath+"/path",schemaPath:"#/properties/path/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema22.properties.path.type,parentSchema:schema22.properties.path,data:data0};
if(vErrors === null){
vErrors = [err3];
}
else {
vErrors.push(err3);
}
errors++;
}
}
if(data.start !== undefined){
let data1 = data.start;
if(typeof data1 !== "string"){
const err4 = {instancePath:instancePath+"/start",schemaPath:"#/properties/start/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema22.properties.start.type,parentSchema:schema22.properties.start,data:data1};
if(vErrors === null){
vErrors = [err4];
}
else {
vErrors.push(err4);
}
errors++;
}
}
if(data.frames !== undefined){
let data2 = data.frames;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
const err5 = {instancePath:instancePath+"/frames",schemaPath:"#/properties/frames/type",keyword:"type",params:{type: "integer"},message:"must be integer",schema:schema22.properties.frames.type,parentSchema:schema22.properties.frames,data:data2};
if(vErrors === null){
vErrors = [err5];
}
else {
vErrors.push(err5);
}
errors++;
}
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 < 1 || isNaN(data2)){
const err6 = {instancePath:instancePath+"/frames",schemaPath:"#/properties/frames/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1",schema:1,parentSchema:schema22.properties.frames,data:data2};
if(vErrors === null){
vErrors = [err6];
}
else {
vErrors.push(err6);
}
errors++;
}
}
}
if(data.rate !== undefined){
let data3 = data.rate;
if(typeof data3 !== "string"){
const err7 = {instancePath:instancePath+"/rate",schemaPath:"#/properties/rate/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema22.properties.rate.type,parentSchema:schema22.properties.rate,data:data3};
if(vErrors === null){
vErrors = [err7];
}
else {
vErrors.push(err7);
}
errors++;
}
}
if(data.channels !== undefined){
let data4 = data.channels;
if(!(((typeof data4 == "number") && (!(data4 % 1) && !isNaN(data4))) && (isFinite(data4)))){
const err8 = {instancePath:instancePath+"/channels",schemaPath:"#/properties/channels/type",keyword:"type",params:{type: "integer"},message:"must be integer",schema:schema22.properties.channels.type,parentSchema:schema22.properties.channels,data:data4};
if(vErrors === null){
vErrors = [err8];
}
else {
vErrors.push(err8);
}
errors++;
}
if((typeof data4 == "number") && (isFinite(data4))){
if(data4 < 0 || isNaN(data4)){
const err9 = {instancePath:instancePath+"/channels",schemaPath:"#/properties/channels/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0",schema:0,parentSchema:schema22.properties.channels,data:data4};
if(vErrors === null){
vErrors = [err9];
}
else {
vErrors.push(err9);
}
errors++;
}
}
}
if(data.size !== undefined){
let data5 = data.size;
if(!(((typeof data5 == "number") && (!(data5 % 1) && !isNaN(data5))) && (isFinite(data5)))){
const err10 = {instancePath:instancePath+"/size",schemaPath:"#/properties/size/type",keyword:"type",params:{type: "integer"},message:"must be integer",schema:schema22.properties.size.type,parentSchema:schema22.properties.size,data:data5};
if(vErrors === null){
vErrors = [err10];
}
else {
vErrors.push(err10);
}
errors++;
}
if((typeof data5 == "number") && (isFinite(data5))){
if(data5 < 0 || isNaN(data5)){
const err11 = {instancePath:instancePath+"/size",schemaPath:"#/properties/size/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0",schema:0,parentSchema:schema22.properties.size,data:data5};
if(vErrors === null){
vErrors = [err11];
}
else {
vErrors.push(err11);
}
errors++;
}
}
}
}
else {
const err12 = {instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema22.type,parentSchema:schema22,data};
if(vErrors === null){
vErrors = [err12];
}
else {
vErrors.push(err12);
}
errors++;
}
validate55.errors = vErrors;
return errors === 0;
}
validate55.evaluated = {"props":true,"dynamicProps":false,"dynamicItems":false};


function validate54(data, {instancePath="", parentData, parentDataProperty, rootData=data, dynamicAnchors={}}={}){
let vErrors = null;
let errors = 0;
const evaluated0 = validate54.evaluated;
if(evaluated0.dynamicProps){
evaluated0.props = undefined;
}
if(evaluated0.dynamicItems){
evaluated0.items = undefined;
}
if(data && typeof data == "object" && !Array.isArray(data)){
for(const key0 in data){
if(!(func1.call(schema21.properties, key0))){
const err0 = {instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties",schema:false,parentSchema:schema21,data};
if(vErrors === null){
vErrors = [err0];
}
else {
vErrors.push(err0);
}
errors++;
}
}
if(data.id !== undefined){
let data0 = data.id;
if(typeof data0 === "string"){
if(!pattern3.test(data0)){
const err1 = {instancePath:instancePath+"/id",schemaPath:"#/properties/id/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema21.properties.id,data:data0};
if(vErrors === null){
vErrors = [err1];
}
else {
vErrors.push(err1);
}
errors++;
}
}
else {
const err2 = {instancePath:instancePath+"/id",schemaPath:"#/properties/id/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.id.type,parentSchema:schema21.properties.id,data:data0};
if(vErrors === null){
vErrors = [err2];
}
else {
vErrors.push(err2);
}
errors++;
}
}
if(data.name !== undefined){
let data1 = data.name;
if(typeof data1 === "string"){
if(!pattern3.test(data1)){
const err3 = {instancePath:instancePath+"/name",schemaPath:"#/properties/name/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema21.properties.name,data:data1};
if(vErrors === null){
vErrors = [err3];
}
else {
vErrors.push(err3);
}
errors++;
}
}
else {
const err4 = {instancePath:instancePath+"/name",schemaPath:"#/properties/name/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.name.type,parentSchema:schema21.properties.name,data:data1};
if(vErrors === null){
vErrors = [err4];
}
else {
vErrors.push(err4);
}
errors++;
}
}
if(data.reel !== undefined){
let data2 = data.reel;
if(typeof data2 === "string"){
if(!pattern3.test(data2)){
const err5 = {instancePath:instancePath+"/reel",schemaPath:"#/properties/reel/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema21.properties.reel,data:data2};
if(vErrors === null){
vErrors = [err5];
}
else {
vErrors.push(err5);
}
errors++;
}
}
else {
const err6 = {instancePath:instancePath+"/reel",schemaPath:"#/properties/reel/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.reel.type,parentSchema:schema21.properties.reel,data:data2};
if(vErrors === null){
vErrors = [err6];
}
else {
vErrors.push(err6);
}
errors++;
}
}
if(data.aliases !== undefined){
let data3 = data.aliases;
if(Array.isArray(data3)){
const len0 = data3.length;
for(let i0=0; i0<len0; i0++){
let data4 = data3[i0];
if(typeof data4 === "string"){
if(!pattern3.test(data4)){
const err7 = {instancePath:instancePath+"/aliases/" + i0,schemaPath:"#/properties/aliases/items/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema21.properties.aliases.items,data:data4};
if(vErrors === null){
vErrors = [err7];
}
else {
vErrors.push(err7);
}
errors++;
}
}
else {
const err8 = {instancePath:instancePath+"/aliases/" + i0,schemaPath:"#/properties/aliases/items/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.aliases.items.type,parentSchema:schema21.properties.aliases.items,data:data4};
if(vErrors === null){
vErrors = [err8];
}
else {
vErrors.push(err8);
}
errors++;
}
}
}
else {
const err9 = {instancePath:instancePath+"/aliases",schemaPath:"#/properties/aliases/type",keyword:"type",params:{type: "array"},message:"must be array",schema:schema21.properties.aliases.type,parentSchema:schema21.properties.aliases,data:data3};
if(vErrors === null){
vErrors = [err9];
}
else {
vErrors.push(err9);
}
errors++;
}
}
if(data.start !== undefined){
let data5 = data.start;
if((typeof data5 !== "string") && (!(Array.isArray(data5)))){
const err10 = {instancePath:instancePath+"/start",schemaPath:"#/properties/start/type",keyword:"type",params:{type: schema21.properties.start.type},message:"must be string,array",schema:schema21.properties.start.type,parentSchema:schema21.properties.start,data:data5};
if(vErrors === null){
vErrors = [err10];
}
else {
vErrors.push(err10);
}
errors++;
}
if(Array.isArray(data5)){
const len1 = data5.length;
for(let i1=0; i1<len1; i1++){
let data6 = data5[i1];
if(typeof data6 !== "string"){
const err11 = {instancePath:instancePath+"/start/" + i1,schemaPath:"#/properties/start/items/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.start.items.type,parentSchema:schema21.properties.start.items,data:data6};
if(vErrors === null){
vErrors = [err11];
}
else {
vErrors.push(err11);
}
errors++;
}
}
}
}
if(data.offset !== undefined){
let data7 = data.offset;
if(!(((typeof data7 == "number") && (!(data7 % 1) && !isNaN(data7))) && (isFinite(data7)))){
const err12 = {instancePath:instancePath+"/offset",schemaPath:"#/properties/offset/type",keyword:"type",params:{type: "integer"},message:"must be integer",schema:schema21.properties.offset.type,parentSchema:schema21.properties.offset,data:data7};
if(vErrors === null){
vErrors = [err12];
}
else {
vErrors.push(err12);
}
errors++;
}
}
if(data.sync !== undefined){
let data8 = data.sync;
if(data8 && typeof data8 == "object" && !Array.isArray(data8)){
if(data8.this === undefined){
const err13 = {instancePath:instancePath+"/sync",schemaPath:"#/properties/sync/required",keyword:"required",params:{missingProperty: "this"},message:"must have required property '"+"this"+"'",schema:schema21.properties.sync.required,parentSchema:schema21.properties.sync,data:data8};
if(vErrors === null){
vErrors = [err13];
}
else {
vErrors.push(err13);
}
errors++;
}
if(data8.is === undefined){
const err14 = {instancePath:instancePath+"/sync",schemaPath:"#/properties/sync/required",keyword:"required",params:{missingProperty: "is"},message:"must have required property '"+"is"+"'",schema:schema21.properties.sync.required,parentSchema:schema21.properties.sync,data:data8};
if(vErrors === null){
vErrors = [err14];
}
else {
vErrors.push(err14);
}
errors++;
}
for(const key1 in data8){
if(!((key1 === "this") || (key1 === "is"))){
const err15 = {instancePath:instancePath+"/sync",schemaPath:"#/properties/sync/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties",schema:false,parentSchema:schema21.properties.sync,data:data8};
if(vErrors === null){
vErrors = [err15];
}
else {
vErrors.push(err15);
}
errors++;
}
}
if(data8.this !== undefined){
let data9 = data8.this;
if(typeof data9 !== "string"){
const err16 = {instancePath:instancePath+"/sync/this",schemaPath:"#/properties/sync/properties/this/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.sync.properties.this.type,parentSchema:schema21.properties.sync.properties.this,data:data9};
if(vErrors === null){
vErrors = [err16];
}
else {
vErrors.push(err16);
}
errors++;
}
}
if(data8.is !== undefined){
let data10 = data8.is;
if(typeof data10 !== "string"){
const err17 = {instancePath:instancePath+"/sync/is",schemaPath:"#/properties/sync/properties/is/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema21.properties.sync.properties.is.type,parentSchema:schema21.properties.sync.properties.is,data:data10};
if(vErrors === null){
vErrors = [err17];
}
else {
vErrors.push(err17);
}
errors++;
}
}
}
else {
const err18 = {instancePath:instancePath+"/sync",schemaPath:"#/properties/sync/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema21.properties.sync.type,parentSchema:schema21.properties.sync,data:data8};
if(vErrors === null){
vErrors = [err18];
}
else {
vErrors.push(err18);
}
errors++;
}
}
if(data.files !== undefined){
let data11 = data.files;
if(Array.isArray(data11)){
const len2 = data11.length;
for(let i2=0; i2<len2; i2++){
if(!(validate55(data11[i2], {instancePath:instancePath+"/files/" + i2,parentData:data11,parentDataProperty:i2,rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate55.errors : vErrors.concat(validate55.errors);
errors = vErrors.length;
}
}
}
else {
const err19 = {instancePath:instancePath+"/files",schemaPath:"#/properties/files/type",keyword:"type",params:{type: "array"},message:"must be array",schema:schema21.properties.files.type,parentSchema:schema21.properties.files,data:data11};
if(vErrors === null){
vErrors = [err19];
}
else {
vErrors.push(err19);
}
errors++;
}
}
if(data.recorded !== undefined){
let data13 = data.recorded;
if(typeof data13 !== "boolean"){
const err20 = {instancePath:instancePath+"/recorded",schemaPath:"#/properties/recorded/type",keyword:"type",params:{type: "boolean"},message:"must be boolean",schema:schema21.properties.recorded.type,parentSchema:schema21.properties.recorded,data:data13};
if(vErrors === null){
vErrors = [err20];
}
else {
vErrors.push(err20);
}
errors++;
}
}
if(data.picture !== undefined){
let data14 = data.picture;
if(typeof data14 !== "boolean"){
const err21 = {instancePath:instancePath+"/picture",schemaPath:"#/properties/picture/type",keyword:"type",params:{type: "boolean"},message:"must be boolean",schema:schema21.properties.picture.type,parentSchema:schema21.properties.picture,data:data14};
if(vErrors === null){
vErrors = [err21];
}
else {
vErrors.push(err21);
}
errors++;
}
}
}
else {
const err22 = {instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema21.type,parentSchema:schema21,data};
if(vErrors === null){
vErrors = [err22];
}
else {
vErrors.push(err22);
}
errors++;
}
validate54.errors = vErrors;
return errors === 0;
}
validate54.evaluated = {"props":true,"dynamicProps":false,"dynamicItems":false};


function validate53(data, {instancePath="", parentData, parentDataProperty, rootData=data, dynamicAnchors={}}={}){
let vErrors = null;
let errors = 0;
const evaluated0 = validate53.evaluated;
if(evaluated0.dynamicProps){
evaluated0.props = undefined;
}
if(evaluated0.dynamicItems){
evaluated0.items = undefined;
}
if(!(validate54(data, {instancePath,parentData,parentDataProperty,rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate54.errors : vErrors.concat(validate54.errors);
errors = vErrors.length;
}
if(data && typeof data == "object" && !Array.isArray(data)){
if(data.id === undefined){
const err0 = {instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: "id"},message:"must have required property '"+"id"+"'",schema:schema20.required,parentSchema:schema20,data};
if(vErrors === null){
vErrors = [err0];
}
else {
vErrors.push(err0);
}
errors++;
}
}
else {
const err1 = {instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema20.type,parentSchema:schema20,data};
if(vErrors === null){
vErrors = [err1];
}
else {
vErrors.push(err1);
}
errors++;
}
validate53.errors = vErrors;
return errors === 0;
}
validate53.evaluated = {"props":true,"dynamicProps":false,"dynamicItems":false};

const schema23 = {"$schema":"https://json-schema.org/draft/2020-12/schema","$id":"linecut:mapping","title":"linecut mapping file","description":"How a log in anybody's own columns or elements becomes linecut's rows.","type":"object","additionalProperties":false,"properties":{"$schema":{"type":"string"},"rows":{"type":"string","pattern":"\\S","description":"XML only: path of element names to a row, /session/list/item."},"skipLines":{"type":"integer","minimum":0,"description":"CSV only: lines before the header row."},"delimiter":{"type":"string","pattern":"^[\\s\\S]$","description":"CSV only: the character between two fields."},"encoding":{"type":"string","pattern":"\\S","description":"utf-8, utf-16le, utf-16be or windows-1252."},"decimal":{"enum":[".",","],"description":"Sign before the decimals."},"fields":{"type":"object","description":"Where each field stands: a column's name or number from 1, or a path below the row, what/@kind. null: the log has no such field.","additionalProperties":false,"properties":{"time":{"$ref":"#/$defs/place"},"action":{"$ref":"#/$defs/place"},"source":{"$ref":"#/$defs/place"},"duration":{"$ref":"#/$defs/place"},"end":{"$ref":"#/$defs/place"},"wipe":{"$ref":"#/$defs/place"},"note":{"$ref":"#/$defs/place"}}},"actions":{"type":"object","description":"The log's own words for what happens.","additionalProperties":{"enum":["cut","dissolve","dissolve-end","wipe","cue","start","stop","marker","audio","ignore"]}},"sources":{"type":"object","description":"The log's own words for sources, and their ids.","additionalProperties":{"type":"string","pattern":"\\S"}},"timeAs":{"enum":["timecode","frames","seconds","milliseconds","clock"],"description":"What kind of time the log has."},"clockFormat":{"type":"string","pattern":"\\S","description":"Letters for a clock time: dd.MM.yyyy HH:mm:ss.SSS."},"zone":{"type":"string","pattern":"\\S","description":"Time zone of clock times without one: Europe/Lisbon."},"rate":{"type":"string","description":"Rate that the log's labels count at, where it is half the list's."},"rowsAre":{"enum":["events","shots"],"description":"shots for a log with one row a shot."}},"$defs":{"place":{"type":["string","integer","null"],"pattern":"\\S","minimum":1}}};
const pattern9 = new RegExp("^[\\s\\S]$", "u");
const schema24 = {"type":["string","integer","null"],"pattern":"\\S","minimum":1};

function validate61(data, {instancePath="", parentData, parentDataProperty, rootData=data, dynamicAnchors={}}={}){
let vErrors = null;
let errors = 0;
const evaluated0 = validate61.evaluated;
if(evaluated0.dynamicProps){
evaluated0.props = undefined;
}
if(evaluated0.dynamicItems){
evaluated0.items = undefined;
}
if(((typeof data !== "string") && (!(((typeof data == "number") && (!(data % 1) && !isNaN(data))) && (isFinite(data))))) && (data !== null)){
const err0 = {instancePath,schemaPath:"#/type",keyword:"type",params:{type: schema24.type},message:"must be string,integer,null",schema:schema24.type,parentSchema:schema24,data};
if(vErrors === null){
vErrors = [err0];
}
else {
vErrors.push(err0);
}
errors++;
}
if((typeof data == "number") && (isFinite(data))){
if(data < 1 || isNaN(data)){
const err1 = {instancePath,schemaPath:"#/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1",schema:1,parentSchema:schema24,data};
if(vErrors === null){
vErrors = [err1];
}
else {
vErrors.push(err1);
}
errors++;
}
}
if(typeof data === "string"){
if(!pattern3.test(data)){
const err2 = {instancePath,schemaPath:"#/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema24,data};
if(vErrors === null){
vErrors = [err2];
}
else {
vErrors.push(err2);
}
errors++;
}
}
validate61.errors = vErrors;
return errors === 0;
}
validate61.evaluated = {"dynamicProps":false,"dynamicItems":false};


function validate60(data, {instancePath="", parentData, parentDataProperty, rootData=data, dynamicAnchors={}}={}){
/*# sourceURL="linecut:mapping" */;
let vErrors = null;
let errors = 0;
const evaluated0 = validate60.evaluated;
if(evaluated0.dynamicProps){
evaluated0.props = undefined;
}
if(evaluated0.dynamicItems){
evaluated0.items = undefined;
}
if(data && typeof data == "object" && !Array.isArray(data)){
for(const key0 in data){
if(!(func1.call(schema23.properties, key0))){
const err0 = {instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties",schema:false,parentSchema:schema23,data};
if(vErrors === null){
vErrors = [err0];
}
else {
vErrors.push(err0);
}
errors++;
}
}
if(data.$schema !== undefined){
let data0 = data.$schema;
if(typeof data0 !== "string"){
const err1 = {instancePath:instancePath+"/$schema",schemaPath:"#/properties/%24schema/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.$schema.type,parentSchema:schema23.properties.$schema,data:data0};
if(vErrors === null){
vErrors = [err1];
}
else {
vErrors.push(err1);
}
errors++;
}
}
if(data.rows !== undefined){
let data1 = data.rows;
if(typeof data1 === "string"){
if(!pattern3.test(data1)){
const err2 = {instancePath:instancePath+"/rows",schemaPath:"#/properties/rows/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema23.properties.rows,data:data1};
if(vErrors === null){
vErrors = [err2];
}
else {
vErrors.push(err2);
}
errors++;
}
}
else {
const err3 = {instancePath:instancePath+"/rows",schemaPath:"#/properties/rows/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.rows.type,parentSchema:schema23.properties.rows,data:data1};
if(vErrors === null){
vErrors = [err3];
}
else {
vErrors.push(err3);
}
errors++;
}
}
if(data.skipLines !== undefined){
let data2 = data.skipLines;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
const err4 = {instancePath:instancePath+"/skipLines",schemaPath:"#/properties/skipLines/type",keyword:"type",params:{type: "integer"},message:"must be integer",schema:schema23.properties.skipLines.type,parentSchema:schema23.properties.skipLines,data:data2};
if(vErrors === null){
vErrors = [err4];
}
else {
vErrors.push(err4);
}
errors++;
}
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 < 0 || isNaN(data2)){
const err5 = {instancePath:instancePath+"/skipLines",schemaPath:"#/properties/skipLines/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0",schema:0,parentSchema:schema23.properties.skipLines,data:data2};
if(vErrors === null){
vErrors = [err5];
}
else {
vErrors.push(err5);
}
errors++;
}
}
}
if(data.delimiter !== undefined){
let data3 = data.delimiter;
if(typeof data3 === "string"){
if(!pattern9.test(data3)){
const err6 = {instancePath:instancePath+"/delimiter",schemaPath:"#/properties/delimiter/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]$"},message:"must match pattern \""+"^[\\s\\S]$"+"\"",schema:"^[\\s\\S]$",parentSchema:schema23.properties.delimiter,data:data3};
if(vErrors === null){
vErrors = [err6];
}
else {
vErrors.push(err6);
}
errors++;
}
}
else {
const err7 = {instancePath:instancePath+"/delimiter",schemaPath:"#/properties/delimiter/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.delimiter.type,parentSchema:schema23.properties.delimiter,data:data3};
if(vErrors === null){
vErrors = [err7];
}
else {
vErrors.push(err7);
}
errors++;
}
}
if(data.encoding !== undefined){
let data4 = data.encoding;
if(typeof data4 === "string"){
if(!pattern3.test(data4)){
const err8 = {instancePath:instancePath+"/encoding",schemaPath:"#/properties/encoding/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema23.properties.encoding,data:data4};
if(vErrors === null){
vErrors = [err8];
}
else {
vErrors.push(err8);
}
errors++;
}
}
else {
const err9 = {instancePath:instancePath+"/encoding",schemaPath:"#/properties/encoding/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.encoding.type,parentSchema:schema23.properties.encoding,data:data4};
if(vErrors === null){
vErrors = [err9];
}
else {
vErrors.push(err9);
}
errors++;
}
}
if(data.decimal !== undefined){
let data5 = data.decimal;
if(!((data5 === ".") || (data5 === ","))){
const err10 = {instancePath:instancePath+"/decimal",schemaPath:"#/properties/decimal/enum",keyword:"enum",params:{allowedValues: schema23.properties.decimal.enum},message:"must be equal to one of the allowed values",schema:schema23.properties.decimal.enum,parentSchema:schema23.properties.decimal,data:data5};
if(vErrors === null){
vErrors = [err10];
}
else {
vErrors.push(err10);
}
errors++;
}
}
if(data.fields !== undefined){
let data6 = data.fields;
if(data6 && typeof data6 == "object" && !Array.isArray(data6)){
for(const key1 in data6){
if(!(((((((key1 === "time") || (key1 === "action")) || (key1 === "source")) || (key1 === "duration")) || (key1 === "end")) || (key1 === "wipe")) || (key1 === "note"))){
const err11 = {instancePath:instancePath+"/fields",schemaPath:"#/properties/fields/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties",schema:false,parentSchema:schema23.properties.fields,data:data6};
if(vErrors === null){
vErrors = [err11];
}
else {
vErrors.push(err11);
}
errors++;
}
}
if(data6.time !== undefined){
if(!(validate61(data6.time, {instancePath:instancePath+"/fields/time",parentData:data6,parentDataProperty:"time",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
if(data6.action !== undefined){
if(!(validate61(data6.action, {instancePath:instancePath+"/fields/action",parentData:data6,parentDataProperty:"action",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
if(data6.source !== undefined){
if(!(validate61(data6.source, {instancePath:instancePath+"/fields/source",parentData:data6,parentDataProperty:"source",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
if(data6.duration !== undefined){
if(!(validate61(data6.duration, {instancePath:instancePath+"/fields/duration",parentData:data6,parentDataProperty:"duration",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
if(data6.end !== undefined){
if(!(validate61(data6.end, {instancePath:instancePath+"/fields/end",parentData:data6,parentDataProperty:"end",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
if(data6.wipe !== undefined){
if(!(validate61(data6.wipe, {instancePath:instancePath+"/fields/wipe",parentData:data6,parentDataProperty:"wipe",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
if(data6.note !== undefined){
if(!(validate61(data6.note, {instancePath:instancePath+"/fields/note",parentData:data6,parentDataProperty:"note",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
}
}
else {
const err12 = {instancePath:instancePath+"/fields",schemaPath:"#/properties/fields/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema23.properties.fields.type,parentSchema:schema23.properties.fields,data:data6};
if(vErrors === null){
vErrors = [err12];
}
else {
vErrors.push(err12);
}
errors++;
}
}
if(data.actions !== undefined){
let data14 = data.actions;
if(data14 && typeof data14 == "object" && !Array.isArray(data14)){
for(const key2 in data14){
let data15 = data14[key2];
if(!((((((((((data15 === "cut") || (data15 === "dissolve")) || (data15 === "dissolve-end")) || (data15 === "wipe")) || (data15 === "cue")) || (data15 === "start")) || (data15 === "stop")) || (data15 === "marker")) || (data15 === "audio")) || (data15 === "ignore"))){
const err13 = {instancePath:instancePath+"/actions/" + key2.replace(/~/g, "~0").replace(/\//g, "~1"),schemaPath:"#/properties/actions/additionalProperties/enum",keyword:"enum",params:{allowedValues: schema23.properties.actions.additionalProperties.enum},message:"must be equal to one of the allowed values",schema:schema23.properties.actions.additionalProperties.enum,parentSchema:schema23.properties.actions.additionalProperties,data:data15};
if(vErrors === null){
vErrors = [err13];
}
else {
vErrors.push(err13);
}
errors++;
}
}
}
else {
const err14 = {instancePath:instancePath+"/actions",schemaPath:"#/properties/actions/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema23.properties.actions.type,parentSchema:schema23.properties.actions,data:data14};
if(vErrors === null){
vErrors = [err14];
}
else {
vErrors.push(err14);
}
errors++;
}
}
if(data.sources !== undefined){
let data16 = data.sources;
if(data16 && typeof data16 == "object" && !Array.isArray(data16)){
for(const key3 in data16){
let data17 = data16[key3];
if(typeof data17 === "string"){
if(!pattern3.test(data17)){
const err15 = {instancePath:instancePath+"/sources/" + key3.replace(/~/g, "~0").replace(/\//g, "~1"),schemaPath:"#/properties/sources/additionalProperties/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema23.properties.sources.additionalProperties,data:data17};
if(vErrors === null){
vErrors = [err15];
}
else {
vErrors.push(err15);
}
errors++;
}
}
else {
const err16 = {instancePath:instancePath+"/sources/" + key3.replace(/~/g, "~0").replace(/\//g, "~1"),schemaPath:"#/properties/sources/additionalProperties/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.sources.additionalProperties.type,parentSchema:schema23.properties.sources.additionalProperties,data:data17};
if(vErrors === null){
vErrors = [err16];
}
else {
vErrors.push(err16);
}
errors++;
}
}
}
else {
const err17 = {instancePath:instancePath+"/sources",schemaPath:"#/properties/sources/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema23.properties.sources.type,parentSchema:schema23.properties.sources,data:data16};
if(vErrors === null){
vErrors = [err17];
}
else {
vErrors.push(err17);
}
errors++;
}
}
if(data.timeAs !== undefined){
let data18 = data.timeAs;
if(!(((((data18 === "timecode") || (data18 === "frames")) || (data18 === "seconds")) || (data18 === "milliseconds")) || (data18 === "clock"))){
const err18 = {instancePath:instancePath+"/timeAs",schemaPath:"#/properties/timeAs/enum",keyword:"enum",params:{allowedValues: schema23.properties.timeAs.enum},message:"must be equal to one of the allowed values",schema:schema23.properties.timeAs.enum,parentSchema:schema23.properties.timeAs,data:data18};
if(vErrors === null){
vErrors = [err18];
}
else {
vErrors.push(err18);
}
errors++;
}
}
if(data.clockFormat !== undefined){
let data19 = data.clockFormat;
if(typeof data19 === "string"){
if(!pattern3.test(data19)){
const err19 = {instancePath:instancePath+"/clockFormat",schemaPath:"#/properties/clockFormat/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema23.properties.clockFormat,data:data19};
if(vErrors === null){
vErrors = [err19];
}
else {
vErrors.push(err19);
}
errors++;
}
}
else {
const err20 = {instancePath:instancePath+"/clockFormat",schemaPath:"#/properties/clockFormat/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.clockFormat.type,parentSchema:schema23.properties.clockFormat,data:data19};
if(vErrors === null){
vErrors = [err20];
}
else {
vErrors.push(err20);
}
errors++;
}
}
if(data.zone !== undefined){
let data20 = data.zone;
if(typeof data20 === "string"){
if(!pattern3.test(data20)){
const err21 = {instancePath:instancePath+"/zone",schemaPath:"#/properties/zone/pattern",keyword:"pattern",params:{pattern: "\\S"},message:"must match pattern \""+"\\S"+"\"",schema:"\\S",parentSchema:schema23.properties.zone,data:data20};
if(vErrors === null){
vErrors = [err21];
}
else {
vErrors.push(err21);
}
errors++;
}
}
else {
const err22 = {instancePath:instancePath+"/zone",schemaPath:"#/properties/zone/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.zone.type,parentSchema:schema23.properties.zone,data:data20};
if(vErrors === null){
vErrors = [err22];
}
else {
vErrors.push(err22);
}
errors++;
}
}
if(data.rate !== undefined){
let data21 = data.rate;
if(typeof data21 !== "string"){
const err23 = {instancePath:instancePath+"/rate",schemaPath:"#/properties/rate/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema23.properties.rate.type,parentSchema:schema23.properties.rate,data:data21};
if(vErrors === null){
vErrors = [err23];
}
else {
vErrors.push(err23);
}
errors++;
}
}
if(data.rowsAre !== undefined){
let data22 = data.rowsAre;
if(!((data22 === "events") || (data22 === "shots"))){
const err24 = {instancePath:instancePath+"/rowsAre",schemaPath:"#/properties/rowsAre/enum",keyword:"enum",params:{allowedValues: schema23.properties.rowsAre.enum},message:"must be equal to one of the allowed values",schema:schema23.properties.rowsAre.enum,parentSchema:schema23.properties.rowsAre,data:data22};
if(vErrors === null){
vErrors = [err24];
}
else {
vErrors.push(err24);
}
errors++;
}
}
}
else {
const err25 = {instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema23.type,parentSchema:schema23,data};
if(vErrors === null){
vErrors = [err25];
}
else {
vErrors.push(err25);
}
errors++;
}
validate60.errors = vErrors;
return errors === 0;
}
validate60.evaluated = {"props":true,"dynamicProps":false,"dynamicItems":false};


function validate52(data, {instancePath="", parentData, parentDataProperty, rootData=data, dynamicAnchors={}}={}){
/*# sourceURL="linecut:show" */;
let vErrors = null;
let errors = 0;
const evaluated0 = validate52.evaluated;
if(evaluated0.dynamicProps){
evaluated0.props = undefined;
}
if(evaluated0.dynamicItems){
evaluated0.items = undefined;
}
if(data && typeof data == "object" && !Array.isArray(data)){
for(const key0 in data){
if(!((((((((key0 === "$schema") || (key0 === "title")) || (key0 === "rate")) || (key0 === "recordStart")) || (key0 === "sources")) || (key0 === "program")) || (key0 === "audio")) || (key0 === "log"))){
const err0 = {instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties",schema:false,parentSchema:schema19,data};
if(vErrors === null){
vErrors = [err0];
}
else {
vErrors.push(err0);
}
errors++;
}
}
if(data.$schema !== undefined){
let data0 = data.$schema;
if(typeof data0 !== "string"){
const err1 = {instancePath:instancePath+"/$schema",schemaPath:"#/properties/%24schema/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema19.properties.$schema.type,parentSchema:schema19.properties.$schema,data:data0};
if(vErrors === null){
vErrors = [err1];
}
else {
vErrors.push(err1);
}
errors++;
}
}
if(data.title !== undefined){
let data1 = data.title;
if(typeof data1 !== "string"){
const err2 = {instancePath:instancePath+"/title",schemaPath:"#/properties/title/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema19.properties.title.type,parentSchema:schema19.properties.title,data:data1};
if(vErrors === null){
vErrors = [err2];
}
else {
vErrors.push(err2);
}
errors++;
}
}
if(data.rate !== undefined){
let data2 = data.rate;
if(typeof data2 !== "string"){
const err3 = {instancePath:instancePath+"/rate",schemaPath:"#/properties/rate/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema19.properties.rate.type,parentSchema:schema19.properties.rate,data:data2};
if(vErrors === null){
vErrors = [err3];
}
else {
vErrors.push(err3);
}
errors++;
}
}
if(data.recordStart !== undefined){
let data3 = data.recordStart;
if(typeof data3 !== "string"){
const err4 = {instancePath:instancePath+"/recordStart",schemaPath:"#/properties/recordStart/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema19.properties.recordStart.type,parentSchema:schema19.properties.recordStart,data:data3};
if(vErrors === null){
vErrors = [err4];
}
else {
vErrors.push(err4);
}
errors++;
}
}
if(data.sources !== undefined){
let data4 = data.sources;
if(Array.isArray(data4)){
const len0 = data4.length;
for(let i0=0; i0<len0; i0++){
if(!(validate53(data4[i0], {instancePath:instancePath+"/sources/" + i0,parentData:data4,parentDataProperty:i0,rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate53.errors : vErrors.concat(validate53.errors);
errors = vErrors.length;
}
}
}
else {
const err5 = {instancePath:instancePath+"/sources",schemaPath:"#/properties/sources/type",keyword:"type",params:{type: "array"},message:"must be array",schema:schema19.properties.sources.type,parentSchema:schema19.properties.sources,data:data4};
if(vErrors === null){
vErrors = [err5];
}
else {
vErrors.push(err5);
}
errors++;
}
}
if(data.program !== undefined){
if(!(validate54(data.program, {instancePath:instancePath+"/program",parentData:data,parentDataProperty:"program",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate54.errors : vErrors.concat(validate54.errors);
errors = vErrors.length;
}
}
if(data.audio !== undefined){
let data7 = data.audio;
if(data7 && typeof data7 == "object" && !Array.isArray(data7)){
for(const key1 in data7){
if(!((key1 === "from") || (key1 === "channels"))){
const err6 = {instancePath:instancePath+"/audio",schemaPath:"#/properties/audio/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties",schema:false,parentSchema:schema19.properties.audio,data:data7};
if(vErrors === null){
vErrors = [err6];
}
else {
vErrors.push(err6);
}
errors++;
}
}
if(data7.from !== undefined){
let data8 = data7.from;
if(typeof data8 !== "string"){
const err7 = {instancePath:instancePath+"/audio/from",schemaPath:"#/properties/audio/properties/from/type",keyword:"type",params:{type: "string"},message:"must be string",schema:schema19.properties.audio.properties.from.type,parentSchema:schema19.properties.audio.properties.from,data:data8};
if(vErrors === null){
vErrors = [err7];
}
else {
vErrors.push(err7);
}
errors++;
}
}
if(data7.channels !== undefined){
let data9 = data7.channels;
if(Array.isArray(data9)){
if(data9.length < 1){
const err8 = {instancePath:instancePath+"/audio/channels",schemaPath:"#/properties/audio/properties/channels/minItems",keyword:"minItems",params:{limit: 1},message:"must NOT have fewer than 1 items",schema:1,parentSchema:schema19.properties.audio.properties.channels,data:data9};
if(vErrors === null){
vErrors = [err8];
}
else {
vErrors.push(err8);
}
errors++;
}
const len1 = data9.length;
for(let i1=0; i1<len1; i1++){
let data10 = data9[i1];
if(!(((typeof data10 == "number") && (!(data10 % 1) && !isNaN(data10))) && (isFinite(data10)))){
const err9 = {instancePath:instancePath+"/audio/channels/" + i1,schemaPath:"#/properties/audio/properties/channels/items/type",keyword:"type",params:{type: "integer"},message:"must be integer",schema:schema19.properties.audio.properties.channels.items.type,parentSchema:schema19.properties.audio.properties.channels.items,data:data10};
if(vErrors === null){
vErrors = [err9];
}
else {
vErrors.push(err9);
}
errors++;
}
if((typeof data10 == "number") && (isFinite(data10))){
if(data10 < 1 || isNaN(data10)){
const err10 = {instancePath:instancePath+"/audio/channels/" + i1,schemaPath:"#/properties/audio/properties/channels/items/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1",schema:1,parentSchema:schema19.properties.audio.properties.channels.items,data:data10};
if(vErrors === null){
vErrors = [err10];
}
else {
vErrors.push(err10);
}
errors++;
}
}
}
}
else {
const err11 = {instancePath:instancePath+"/audio/channels",schemaPath:"#/properties/audio/properties/channels/type",keyword:"type",params:{type: "array"},message:"must be array",schema:schema19.properties.audio.properties.channels.type,parentSchema:schema19.properties.audio.properties.channels,data:data9};
if(vErrors === null){
vErrors = [err11];
}
else {
vErrors.push(err11);
}
errors++;
}
}
}
else {
const err12 = {instancePath:instancePath+"/audio",schemaPath:"#/properties/audio/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema19.properties.audio.type,parentSchema:schema19.properties.audio,data:data7};
if(vErrors === null){
vErrors = [err12];
}
else {
vErrors.push(err12);
}
errors++;
}
}
if(data.log !== undefined){
if(!(validate60(data.log, {instancePath:instancePath+"/log",parentData:data,parentDataProperty:"log",rootData,dynamicAnchors}))){
vErrors = vErrors === null ? validate60.errors : vErrors.concat(validate60.errors);
errors = vErrors.length;
}
}
}
else {
const err13 = {instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object",schema:schema19.type,parentSchema:schema19,data};
if(vErrors === null){
vErrors = [err13];
}
else {
vErrors.push(err13);
}
errors++;
}
validate52.errors = vErrors;
return errors === 0;
}
validate52.evaluated = {"props":true,"dynamicProps":false,"dynamicItems":false};

export const validateMapping = validate60;
