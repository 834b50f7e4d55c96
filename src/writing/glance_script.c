/*
 * glance_script.c - written so that it may stand in XML: no "less than", no ampersand.
 *
 * Headings are buttons and filters are inputs, so that the browser's own keys work them.  A cell is
 * compared by its data-v (ISO day, plain number) where it has one, by its text else; missing cells
 * stay last in either direction.
 */
#include "writing/glance_script.h"

const char glance_style[] =
    "body{font:11pt/1.4 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:80em;"
    "padding:0 1em}\n"
    "h1{font-size:16pt;margin:.4em 0}h2{font-size:13pt;margin:1.4em 0 .3em}\n"
    "nav a{margin-right:1em}svg{max-width:100%;height:auto}\n"
    "table{border-collapse:collapse;width:100%;font-size:9.5pt}\n"
    "th,td{border:.5pt solid #777;padding:.15em .4em;text-align:left;vertical-align:top}\n"
    "td.n{text-align:right}thead{display:table-header-group}thead,tr{break-inside:avoid}\n"
    "th button{font:inherit;font-weight:bold;background:none;border:0;padding:0;text-align:left;"
    "cursor:pointer}\n"
    "th[aria-sort=ascending] button::after{content:' \\25B2'}"
    "th[aria-sort=descending] button::after{content:' \\25BC'}\n"
    "a:focus,button:focus,input:focus{outline:2px solid #0072b2;outline-offset:1px}\n"
    ".paper{display:none}.head{white-space:pre-line;margin:.2em 0}.scroll{overflow-x:auto}\n"
    "@page{margin:12mm}@media print{nav,.filter,th "
    "button{display:none}.paper{display:inline}section{break-inside:auto}"
    "body{font-size:9pt;max-width:none}.scroll{overflow:visible}h2{break-after:avoid}"
    "table{font-size:7.5pt}}\n";

const char glance_script[] =
    "(function(){'use strict';\n"
    "function value(row,i){var cell=row.cells[i],v=cell.getAttribute('data-v');"
    "return v===null?cell.textContent:v;}\n"
    "function compare(a,b){var x=Number(a),y=Number(b);"
    "if(isNaN(x)||isNaN(y)){return a===b?0:a>b?1:-1;}return x-y;}\n"
    "function words_of(text){return text.toLowerCase().split(/\\s+/)"
    ".filter(function(word){return word!=='';});}\n"
    "document.querySelectorAll('table.rows').forEach(function(table){\n"
    "var body=table.tBodies[0],heads=table.querySelectorAll('thead th');\n"
    "table.querySelectorAll('thead button').forEach(function(button,i){\n"
    "button.addEventListener('click',function(){\n"
    "var head=button.parentNode,up=head.getAttribute('aria-sort')!=='ascending',"
    "rows=Array.prototype.slice.call(body.rows);\n"
    "heads.forEach(function(other){other.removeAttribute('aria-sort');});\n"
    "head.setAttribute('aria-sort',up?'ascending':'descending');\n"
    "rows.sort(function(a,b){var x=value(a,i),y=value(b,i);"
    "if(x===''||y===''){return x===y?0:x===''?1:-1;}"
    "return up?compare(x,y):compare(y,x);});\n"
    "rows.forEach(function(row){body.appendChild(row);});});});\n"
    "var box=document.getElementById(table.id+'-filter'),"
    "told=document.getElementById(table.id+'-told');\n"
    "box.addEventListener('input',function(){var words=words_of(box.value),shown=0;\n"
    "Array.prototype.forEach.call(body.rows,function(row){\n"
    "var text=Array.prototype.map.call(row.cells,function(cell){return cell.textContent;})"
    ".join(' ').toLowerCase(),"
    "hit=words.every(function(word){return text.indexOf(word)!==-1;});\n"
    "row.hidden=!hit;if(hit){shown+=1;}});\n"
    "told.textContent=shown+' of '+body.rows.length+' rows';});});})();\n";
